package pitside.phone

import android.content.Context
import android.content.Intent
import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Path
import android.net.Uri
import com.sun.jna.NativeLibrary
import java.io.File
import java.io.FileNotFoundException
import org.json.JSONObject
import pitside.phone.take.AndroidClips
import pitside.phone.take.Area
import pitside.phone.take.CROP_HIGH
import pitside.phone.take.CROP_WIDE
import pitside.phone.take.Clips
import pitside.phone.take.Frames
import uniffi.pitside_screen.ClipFile
import uniffi.pitside_screen.FrameIndex

/** A phone whose clips are files of a folder; what decodes them draws. */
open class TakePhone : TestPhone() {
    val files: File by lazy { File(folder, "clips").apply { mkdirs() } }
    val kept by lazy { TestClips(this, files) }

    override fun makeClips(): Clips = kept
}

/** The clips of a folder, read by the descriptors of this system. */
class TestClips(private val context: Context, private val folder: File) : Clips() {
    /** Whether their keeper lets files be deleted. */
    var deletes = true
    val letGo = mutableListOf<String>()

    /** The newest pictures that were asked for. */
    lateinit var drawn: DrawnFrames

    /** Whether pictures are there at once. */
    var atOnce = true

    /** Brings a real file into the folder. */
    fun put(path: String): Uri {
        val from = File(System.getProperty("user.dir"), "../$path")
        return Uri.fromFile(from.copyTo(File(folder, from.name), overwrite = true))
    }

    override fun picker(): Intent = AndroidClips(context).picker()

    override fun found(place: Uri): ClipFile = File(checkNotNull(place.path)).let { ClipFile(place.toString(), it.name, it.length().toULong(), null) }

    override fun <T> lend(place: String, use: (Int) -> T): T {
        val c = NativeLibrary.getInstance("c")
        val lent = c.getFunction("open").invokeInt(arrayOf(Uri.parse(place).path, 0))
        if (lent < 0) throw FileNotFoundException(place)
        try {
            return use(lent)
        } finally {
            c.getFunction("close").invokeInt(arrayOf(lent))
        }
    }

    override fun delete(place: String): Boolean = deletes && File(checkNotNull(Uri.parse(place).path)).delete()

    override fun letGo(place: String) {
        letGo += place
    }

    override fun frames(place: String, index: FrameIndex): Frames {
        val truth = File(System.getProperty("user.dir"), "../tests/render/clips/" + Uri.parse(place).lastPathSegment.orEmpty().removeSuffix(".mp4") + ".json")
        return DrawnFrames(if (truth.exists()) JSONObject(truth.readText()) else null, atOnce).also { drawn = it }
    }
}

/** Stands for a decoder: it draws a foot where the clip's known truth has it. */
class DrawnFrames(truth: JSONObject?, private val atOnce: Boolean) : Frames {
    override var arrived: (Int) -> Unit = {}
    override var failed: () -> Unit = {}
    private val held = HashMap<Int, Bitmap>()
    var wanted = emptyList<Int>()
        private set
    var closed = false
        private set
    private var area: Area = Area.Whole

    /** First and last second of each contact. */
    private val contacts = truth?.let { all ->
        listOf("contacts", "run_in").flatMap { name ->
            val list = all.optJSONArray(name) ?: return@flatMap emptyList()
            (0 until list.length()).map { list.getJSONObject(it) }.map { it.getDouble("touchdown_s")..it.getDouble("toe_off_s") }
        }
    }.orEmpty()
    private val rate = truth?.getDouble("capture_rate_hz") ?: 240.0

    override fun want(frames: List<Int>, area: Area) {
        if (area != this.area) held.clear()
        this.area = area
        wanted = frames
        held.keys.retainAll(frames.toSet())
        if (atOnce) arrive()
    }

    /** Draws what is wanted. */
    fun arrive() {
        for (frame in wanted.filter { it !in held }) {
            held[frame] = draw(frame)
            arrived(frame)
        }
    }

    override fun picture(frame: Int): Bitmap? = held[frame]

    override fun close() {
        closed = true
    }

    /** Pixels above the ground: twelve a frame away from the nearest contact. */
    private fun height(frame: Int): Float {
        val at = frame / rate
        val away = contacts.minOfOrNull { if (at in it) 0.0 else minOf(kotlin.math.abs(at - it.start), kotlin.math.abs(at - it.endInclusive)) }
        return ((away ?: 1.0) * rate * 12).toFloat().coerceAtMost(150f)
    }

    private fun draw(frame: Int): Bitmap {
        val whole = area == Area.Whole
        val (wide, high) = if (whole) 480 to 270 else 90 * CROP_WIDE to 90 * CROP_HIGH
        val bitmap = Bitmap.createBitmap(wide, high, Bitmap.Config.ARGB_8888)
        val canvas = Canvas(bitmap)
        val paint = Paint(Paint.ANTI_ALIAS_FLAG)
        canvas.drawColor(0xFFAEBBC2.toInt())
        paint.color = 0xFF8B4A3C.toInt()
        val ground = high * 0.8f
        canvas.drawRect(0f, ground, wide.toFloat(), high.toFloat(), paint)
        if (whole) canvas.scale(0.35f, 0.35f, wide / 2f, ground)
        val (x, y) = wide / 2f to ground - height(frame)
        paint.color = 0xFF3C3F4A.toInt()
        canvas.drawPath(Path().apply { moveTo(x - 60, y - 34); lineTo(x - 30, y - 200); lineTo(x + 10, y - 200); lineTo(x - 14, y - 34); close() }, paint)
        paint.color = 0xFFF3E9D2.toInt()
        canvas.drawPath(Path().apply { moveTo(x - 74, y); lineTo(x - 74, y - 44); lineTo(x - 20, y - 46); lineTo(x + 70, y - 16); lineTo(x + 74, y); close() }, paint)
        return bitmap
    }

}
