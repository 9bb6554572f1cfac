package pitside.phone.take

import android.content.Context
import android.graphics.Bitmap
import android.graphics.ImageFormat
import android.media.Image
import android.media.MediaCodec
import android.media.MediaCodecInfo
import android.media.MediaExtractor
import android.media.MediaFormat
import android.net.Uri
import android.os.Handler
import android.os.HandlerThread
import android.os.Looper
import java.io.IOException
import java.nio.Buffer
import kotlin.math.abs
import uniffi.pitside_screen.FrameIndex

/** What decodes a track, picture by picture in the order of display; not for more than one thread. */
internal interface Decoding : AutoCloseable {
    /** The frame that was given last; after a seek, the one before its key. */
    val at: Int

    /** All to the end was given: only a seek leads on. */
    val drained: Boolean

    /** Goes to a frame that needs no other one; what comes first may lie before it. */
    fun seek(key: Int)

    /** Gives the next picture, where it can be had, and says which frame it was; `null` at the end. */
    fun next(use: (Int, Decoded) -> Unit): Int?
}

/**
 * Pictures that the phone's own decoder gives. It is set at the frame that needs no other before the
 * wanted one, and decodes on from there; what is wanted of each picture is cut out and held, so that
 * steps both ways find it ready. Which frame a picture is, the core's times tell.
 */
class DecodedFrames internal constructor(index: FrameIndex, private val decoding: () -> Decoding) : Frames {
    override var arrived: (Int) -> Unit = {}
    override var failed: () -> Unit = {}

    private val main = Handler(Looper.getMainLooper())
    private val thread = HandlerThread("frames").apply { start() }
    private val background = Handler(thread.looper)

    /** Guards what follows. */
    private val lock = Any()
    private val held = HashMap<Int, Bitmap>()
    private var wanted = emptyList<Int>()
    private var area: Area = Area.Whole
    private var asked = 0
    private val keys = index.keys.map { it.toInt() }.sorted()

    /** Frames that the decoder passed without giving them. */
    private val lost = HashSet<Int>()

    /** Whether it gave any. */
    private var pictured = false

    /** Touched on the background thread alone, as all below. */
    private var decoder: Decoding? = null
    private var broken = false

    /** It failed, and the one that took its place has given nothing yet. */
    private var renewed = false

    /** For what was sought last: one that is not there to be had is sought once. */
    private var sought: Target? = null

    override fun want(frames: List<Int>, area: Area) {
        synchronized(lock) {
            if (area != this.area) held.clear()
            this.area = area
            wanted = frames
            asked++
            held.keys.retainAll(frames.toSet())
        }
        background.removeCallbacks(work)
        background.post(work)
    }

    override fun picture(frame: Int): Bitmap? = synchronized(lock) { held[frame] }

    override fun close() {
        background.removeCallbacks(work)
        background.post {
            letGo()
            thread.quitSafely()
        }
    }

    private val work = Runnable(::decodeOne)

    /** A frame, what of it, and by which question. */
    private data class Target(val frame: Int, val area: Area, val asked: Int)

    /** The frame that is wanted most and neither held nor lost. */
    private fun next(): Target? = synchronized(lock) {
        wanted.firstOrNull { it !in held && it !in lost }?.let { Target(it, area, asked) }
    }

    /** Decodes one picture and looks anew at what is wanted: the person may have gone on. */
    private fun decodeOne() {
        if (broken) return
        val target = next() ?: return
        try {
            decode(target)
            background.post(work)
        } catch (_: IllegalStateException) {
            // The system takes a decoder away where another app needs it.
            if (renewed) fail() else renew()
        } catch (_: IOException) {
            fail()
        } catch (_: IllegalArgumentException) {
            fail()
        } catch (_: SecurityException) {
            fail()
        }
    }

    private fun decode(target: Target) {
        val decoder = decoder ?: decoding().also { decoder = it }
        val frame = target.frame
        val key = keys.lastOrNull { it <= frame } ?: 0
        val past = decoder.at >= frame || decoder.drained
        if (target == sought) {
            if (past) return lose(frame)
        } else if (past || decoder.at < key - 1) {
            decoder.seek(key)
            sought = target
        }
        val gave = decoder.next { given, picture ->
            if (synchronized(lock) { given in wanted && given !in held }) keep(given, target.area, picture)
        }
        // Past it without giving it, or at the end.
        if (gave == null || gave > frame) lose(frame)
    }

    /** It is not there to be had; where none of them is, nothing here can be seen. */
    private fun lose(frame: Int) {
        val none = synchronized(lock) {
            if (frame in held) return
            lost += frame
            !pictured && wanted.all { it in lost }
        }
        if (none) fail()
    }

    private fun renew() {
        renewed = true
        letGo()
        background.post(work)
    }

    private fun fail() {
        broken = true
        letGo()
        main.post { failed() }
    }

    private fun letGo() {
        decoder?.close()
        decoder = null
        sought = null
    }

    private fun keep(frame: Int, area: Area, picture: Decoded) {
        val turned = picture.turned
        val (box, width) = when (area) {
            is Area.Part -> boxOf(area.crop, turned.shownWidth, turned.shownHeight) to CROP_PIXELS
            Area.Whole -> Box(0.0, 0.0, turned.shownWidth.toDouble(), turned.shownHeight.toDouble()) to WHOLE_PIXELS
        }
        val wide = minOf(width, box.width.toInt().coerceAtLeast(1))
        val high = (wide * box.height / box.width).toInt().coerceAtLeast(1)
        val bitmap = Bitmap.createBitmap(pixels(picture, box, wide, high), wide, high, Bitmap.Config.ARGB_8888)
        synchronized(lock) {
            if (area != this.area || frame !in wanted) return
            held[frame] = bitmap
            pictured = true
        }
        renewed = false
        main.post { arrived(frame) }
    }

    private companion object {
        /** A crop is as wide as a third of a large screen: 41 of them are held in 30 MB. */
        const val CROP_PIXELS = 370
        const val WHOLE_PIXELS = 960
    }
}

/** One decoder of the phone's on one track. */
internal class Decoder(context: Context, place: Uri, private val index: FrameIndex) : Decoding {
    private val extractor = MediaExtractor()

    /** What the system's times are ahead of the core's. */
    private var ahead = 0L
    private val codec: MediaCodec = try {
        begin(context, place)
    } catch (e: Exception) {
        extractor.release()
        throw e
    }
    private var ended = false

    /** Before the first one, the one before it. */
    override var at = -1
        private set
    override var drained = false
        private set

    private fun begin(context: Context, place: Uri): MediaCodec {
        extractor.setDataSource(context, place, null)
        val videos = (0 until extractor.trackCount).filter { extractor.getTrackFormat(it).getString(MediaFormat.KEY_MIME).orEmpty().startsWith("video/") }
        val track = videos.getOrNull(index.video.toInt()) ?: throw IOException("no such track")
        extractor.selectTrack(track)
        // The first sample there is needs no other one. Systems differ in how they read edit lists.
        val first = index.keys.firstOrNull()?.toInt() ?: 0
        ahead = extractor.sampleTime - (index.timesUs.getOrNull(first) ?: 0)
        val format = extractor.getTrackFormat(track)
        format.setInteger(MediaFormat.KEY_COLOR_FORMAT, MediaCodecInfo.CodecCapabilities.COLOR_FormatYUV420Flexible)
        // The turn is the core's to say.
        format.setInteger(MediaFormat.KEY_ROTATION, 0)
        val codec = MediaCodec.createDecoderByType(format.getString(MediaFormat.KEY_MIME).orEmpty())
        try {
            codec.configure(format, null, null, 0)
            codec.start()
        } catch (e: Exception) {
            codec.release()
            throw e
        }
        return codec
    }

    override fun seek(key: Int) {
        val time = index.timesUs.getOrNull(key) ?: 0
        // The system may have rounded the time of the key up, and would go to the one before it:
        // asked is for a little after it, and nearer to it than to the next frame.
        val step = index.timesUs.getOrNull(key + 1)?.minus(time) ?: 0
        extractor.seekTo(time + maxOf(step / 2 - 1, 0) + ahead, MediaExtractor.SEEK_TO_PREVIOUS_SYNC)
        codec.flush()
        ended = false
        drained = false
        at = key - 1
    }

    override fun next(use: (Int, Decoded) -> Unit): Int? {
        if (drained) return null
        val info = MediaCodec.BufferInfo()
        repeat(PATIENCE) {
            feed()
            val output = codec.dequeueOutputBuffer(info, WAIT_US)
            if (output >= 0) {
                drained = info.flags and MediaCodec.BUFFER_FLAG_END_OF_STREAM != 0
                val frame = frameAt(info.presentationTimeUs - ahead)
                if (info.size > 0) codec.getOutputImage(output)?.use { image -> use(frame, decoded(image)) }
                codec.releaseOutputBuffer(output, false)
                if (info.size > 0) {
                    at = frame
                    return frame
                }
                if (drained) return null
            }
        }
        throw IOException("the decoder gives nothing")
    }

    private fun feed() {
        if (ended) return
        val input = codec.dequeueInputBuffer(0)
        if (input < 0) return
        val buffer = codec.getInputBuffer(input) ?: return
        val size = extractor.readSampleData(buffer, 0)
        if (size < 0) {
            codec.queueInputBuffer(input, 0, 0, 0, MediaCodec.BUFFER_FLAG_END_OF_STREAM)
            ended = true
        } else {
            codec.queueInputBuffer(input, 0, size, extractor.sampleTime, 0)
            extractor.advance()
        }
    }

    /** The frame whose time is nearest. */
    private fun frameAt(us: Long): Int {
        val found = index.timesUs.binarySearch(us)
        if (found >= 0) return found
        val after = -found - 1
        return listOf(after - 1, after).filter { it in index.timesUs.indices }.minByOrNull { abs(index.timesUs[it] - us) } ?: 0
    }

    private fun decoded(image: Image): Decoded {
        val crop = image.cropRect
        // Of ten bits in two bytes the second byte holds the upper eight.
        val upper = if (image.format == ImageFormat.YCBCR_P010) 1 else 0
        val plane = { at: Int, less: Int ->
            val of = image.planes[at]
            val from = crop.top / less * of.rowStride + crop.left / less * of.pixelStride + upper
            // By the type above: that a ByteBuffer gives itself is newer than the oldest system here.
            val above: Buffer = of.buffer
            above.position(from)
            Plane(of.buffer.slice(), of.rowStride, of.pixelStride)
        }
        return Decoded(plane(0, 1), plane(1, 2), plane(2, 2), Turned(crop.width(), crop.height(), index.turn.toInt(), index.mirrored))
    }

    override fun close() {
        codec.release()
        extractor.release()
    }

    private companion object {
        const val WAIT_US = 10_000L

        /** Waits before a decoder counts as stuck: two seconds. */
        const val PATIENCE = 200
    }
}
