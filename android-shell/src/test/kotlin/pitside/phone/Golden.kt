package pitside.phone

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import android.graphics.Color
import java.io.File
import java.io.FileOutputStream
import kotlin.math.abs

/** Accepted pictures, and this many points wide: what moved or changed is seen, a finer edge is not. */
private const val WIDE = 180

/** How far a point may be from the accepted one in each colour, of 255. */
private const val SHADE = 40

/** What share of the points may be farther from it. */
private const val SHARE = 0.003

private val accepted = File(System.getProperty("user.dir"), "src/test/goldens")

/** Set by `cargo xtask android --accept`: pictures are written down instead of held against. */
private val accepting = System.getenv("PITSIDE_ACCEPT") != null

/** What is other than in the picture that was looked at and accepted; empty where nothing is. */
fun changed(drawn: Bitmap, name: String): List<String> {
    val small = Bitmap.createScaledBitmap(drawn, WIDE, drawn.height * WIDE / drawn.width, true)
    val file = File(accepted, "$name.png")
    if (accepting) {
        file.parentFile.mkdirs()
        FileOutputStream(file).use { small.compress(Bitmap.CompressFormat.PNG, 100, it) }
        return emptyList()
    }
    if (!file.exists()) return listOf("no picture $name was accepted; look at it, then: cargo xtask android --accept")
    val golden = BitmapFactory.decodeFile(file.path)
    if (golden.width != small.width || golden.height != small.height) {
        return listOf("$name is ${small.width} × ${small.height}, accepted was ${golden.width} × ${golden.height}")
    }
    val (ours, theirs) = pixels(small) to pixels(golden)
    val other = ours.indices.count { far(ours[it], theirs[it]) }
    if (other <= ours.size * SHARE) return emptyList()
    return listOf("$name differs from the accepted picture in $other of ${ours.size} points")
}

private fun pixels(of: Bitmap) = IntArray(of.width * of.height).also { of.getPixels(it, 0, of.width, 0, 0, of.width, of.height) }

private fun far(a: Int, b: Int): Boolean =
    maxOf(abs(Color.red(a) - Color.red(b)), abs(Color.green(a) - Color.green(b)), abs(Color.blue(a) - Color.blue(b))) > SHADE
