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
import kotlin.math.abs
import uniffi.pitside_screen.FrameIndex

/**
 * Pictures that the phone's own decoder gives. It is set at the frame that needs no other before the
 * wanted one, and decodes on from there; what is wanted of each picture is cut out and held, so that
 * steps both ways find it ready. Which frame a picture is, the core's times tell.
 */
class DecodedFrames(private val context: Context, private val place: Uri, private val index: FrameIndex) : Frames {
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
    private val keys = index.keys.map { it.toInt() }.sorted()

    /** Frames that the decoder passed without giving them. */
    private val lost = HashSet<Int>()

    /** Touched on the background thread alone. */
    private var decoder: Decoder? = null
    private var broken = false

    override fun want(frames: List<Int>, area: Area) {
        synchronized(lock) {
            if (area != this.area) held.clear()
            this.area = area
            wanted = frames
            held.keys.retainAll(frames.toSet())
        }
        background.removeCallbacks(work)
        background.post(work)
    }

    override fun picture(frame: Int): Bitmap? = synchronized(lock) { held[frame] }

    override fun close() {
        background.removeCallbacks(work)
        background.post {
            decoder?.close()
            thread.quitSafely()
        }
    }

    private val work = Runnable(::decodeOne)

    /** The frame that is wanted most and neither held nor lost, and what of it. */
    private fun next(): Pair<Int, Area>? = synchronized(lock) {
        wanted.firstOrNull { it !in held && it !in lost }?.let { it to area }
    }

    /** Decodes one picture and looks anew at what is wanted: the person may have gone on. */
    private fun decodeOne() {
        val (target, area) = next() ?: return
        try {
            if (broken) return
            val decoder = decoder ?: Decoder(context, place, index).also { decoder = it }
            val key = keys.lastOrNull { it <= target } ?: 0
            if (decoder.at >= target || decoder.at < key - 1) decoder.seek(key)
            val gave = decoder.next { frame, picture ->
                if (synchronized(lock) { frame in wanted && frame !in held }) keep(frame, area, picture)
            }
            // Past the target without it, or at the end: it is not there to be had.
            if (gave == null || gave > target) synchronized(lock) { if (target !in held) lost += target }
            background.post(work)
        } catch (e: IOException) {
            fail()
        } catch (e: IllegalStateException) {
            fail()
        } catch (e: IllegalArgumentException) {
            fail()
        }
    }

    private fun fail() {
        broken = true
        main.post { failed() }
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
        }
        main.post { arrived(frame) }
    }

    private companion object {
        /** A crop is as wide as a third of a large screen: 41 of them are held in 30 MB. */
        const val CROP_PIXELS = 370
        const val WHOLE_PIXELS = 960
    }
}

/** One decoder on one track; not for more than one thread. */
private class Decoder(context: Context, place: Uri, private val index: FrameIndex) : AutoCloseable {
    private val extractor = MediaExtractor()
    private val codec: MediaCodec

    /** What the system's times are ahead of the core's. */
    private val ahead: Long
    private var ended = false

    /** The frame that was given last; before the first one, the one before it. */
    var at = -1
        private set

    init {
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
        codec = MediaCodec.createDecoderByType(format.getString(MediaFormat.KEY_MIME).orEmpty())
        codec.configure(format, null, null, 0)
        codec.start()
    }

    fun seek(key: Int) {
        extractor.seekTo((index.timesUs.getOrNull(key) ?: 0) + ahead, MediaExtractor.SEEK_TO_PREVIOUS_SYNC)
        codec.flush()
        ended = false
        at = key - 1
    }

    /** Gives the next picture in the order of display and says which it was; `null` at the end. */
    fun next(use: (Int, Decoded) -> Unit): Int? {
        val info = MediaCodec.BufferInfo()
        repeat(PATIENCE) {
            feed()
            val output = codec.dequeueOutputBuffer(info, WAIT_US)
            if (output >= 0) {
                val end = info.flags and MediaCodec.BUFFER_FLAG_END_OF_STREAM != 0
                val frame = frameAt(info.presentationTimeUs - ahead)
                if (info.size > 0) codec.getOutputImage(output)?.use { image -> use(frame, decoded(image)) }
                codec.releaseOutputBuffer(output, false)
                if (info.size > 0) {
                    at = frame
                    return frame
                }
                if (end) return null
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
            Plane(of.buffer.apply { position(from) }.slice(), of.rowStride, of.pixelStride)
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
