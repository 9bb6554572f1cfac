package pitside.phone

import android.graphics.Bitmap
import android.graphics.Color
import java.awt.image.BufferedImage
import java.io.File
import javax.imageio.ImageIO
import kotlin.math.abs

/** Accepted pictures, this many points wide and in eight greys: what moved or changed is seen, a finer edge is not. */
private const val WIDE = 180
private const val STEP = 32

/** How many points may be more than one grey off. */
private const val MOST = 24

private val accepted = File(System.getProperty("user.dir"), "src/test/goldens")

/** Set by `cargo xtask android --accept`: pictures are written down instead of held against. */
private val accepting = System.getenv("PITSIDE_ACCEPT") != null

/** What is other than in the picture that was looked at and accepted; empty where nothing is. */
fun changed(drawn: Bitmap, name: String): List<String> {
    val small = greys(drawn)
    val file = File(accepted, "$name.png")
    if (accepting) {
        file.parentFile.mkdirs()
        ImageIO.write(small, "png", file)
        return emptyList()
    }
    if (!file.exists()) return listOf("no picture $name was accepted; look at it, then: cargo xtask android --accept")
    val golden = ImageIO.read(file)
    if (golden.width != small.width || golden.height != small.height) {
        return listOf("$name is ${small.width} × ${small.height}, accepted was ${golden.width} × ${golden.height}")
    }
    val (ours, theirs) = grey(small) to grey(golden)
    val other = ours.indices.count { abs(ours[it] - theirs[it]) > STEP }
    return if (other <= MOST) emptyList() else listOf("$name differs from the accepted picture in $other points")
}

private fun greys(drawn: Bitmap): BufferedImage {
    val scaled = Bitmap.createScaledBitmap(drawn, WIDE, drawn.height * WIDE / drawn.width, true)
    val points = IntArray(scaled.width * scaled.height).also { scaled.getPixels(it, 0, scaled.width, 0, 0, scaled.width, scaled.height) }
    return BufferedImage(scaled.width, scaled.height, BufferedImage.TYPE_BYTE_GRAY).apply {
        // Rec. 601, as far as it matters here; written as it is, past any profile of colours.
        val each = points.map { (Color.red(it) * 299 + Color.green(it) * 587 + Color.blue(it) * 114) / 1_000 / STEP * STEP }
        raster.setSamples(0, 0, width, height, 0, each.toIntArray())
    }
}

private fun grey(of: BufferedImage): IntArray = of.raster.getSamples(0, 0, of.width, of.height, 0, null as IntArray?)
