package pitside.phone.take

import java.nio.ByteBuffer
import kotlin.math.max
import kotlin.math.min
import kotlin.math.roundToInt
import uniffi.pitside_screen.Crop

/** An upright rectangle in a picture as it is shown, in its pixels. */
data class Box(val left: Double, val top: Double, val width: Double, val height: Double)

/** The rectangle of a crop in a picture of that size, whole inside it where it fits. */
fun boxOf(crop: Crop, width: Int, height: Int): Box {
    val least = min(width, height)
    val wide = crop.width * least
    val high = wide * CROP_HIGH / CROP_WIDE
    val within = { middle: Double, size: Double, all: Int -> if (size >= all) (all - size) / 2 else (middle - size / 2).coerceIn(0.0, all - size) }
    return Box(within(crop.x * width, wide, width), within(crop.y * height, high, height), wide, high)
}

/** A crop is three parts wide and four high. */
const val CROP_WIDE = 3
const val CROP_HIGH = 4

/** How a stored picture is turned to be shown: mirrored first, then clockwise. */
class Turned(private val width: Int, private val height: Int, private val turn: Int, private val mirrored: Boolean) {
    private val upright = turn % 180 == 0
    val shownWidth = if (upright) width else height
    val shownHeight = if (upright) height else width

    /** Where a point as it is shown is stored: the column, then the row. */
    inline fun <T> stored(x: Int, y: Int, use: (Int, Int) -> T): T = use(column(x, y), row(x, y))

    fun column(x: Int, y: Int): Int {
        val column = when (turn) {
            90 -> y
            180 -> width - 1 - x
            270 -> width - 1 - y
            else -> x
        }
        return if (mirrored) width - 1 - column else column
    }

    fun row(x: Int, y: Int): Int = when (turn) {
        90 -> height - 1 - x
        180 -> height - 1 - y
        270 -> x
        else -> y
    }
}

/** One plane of a decoded picture. */
class Plane(val bytes: ByteBuffer, val rowStride: Int, val pixelStride: Int)

/** A decoded picture: brightness, and two planes of colour of half its width and height. */
class Decoded(val y: Plane, val u: Plane, val v: Plane, val turned: Turned)

/**
 * The pixels of a box, `width` wide, from row to row; what lies outside the picture is black. After
 * ITU-R BT.709 in the narrow range, as phones film: the colours of others are a little off, which
 * moves no foot.
 */
fun pixels(picture: Decoded, box: Box, width: Int, height: Int): IntArray {
    val out = IntArray(width * height)
    val turned = picture.turned
    for (row in 0 until height) {
        val y = (box.top + (row + 0.5) * box.height / height).toInt()
        if (y < 0 || y >= turned.shownHeight) continue
        for (column in 0 until width) {
            val x = (box.left + (column + 0.5) * box.width / width).toInt()
            if (x < 0 || x >= turned.shownWidth) continue
            out[row * width + column] = turned.stored(x, y) { p, q -> colour(picture, p, q) }
        }
    }
    return out
}

private fun colour(picture: Decoded, column: Int, row: Int): Int {
    val at = { plane: Plane, x: Int, y: Int -> plane.bytes.get(y * plane.rowStride + x * plane.pixelStride).toInt() and 0xFF }
    val y = 1.164f * (at(picture.y, column, row) - 16)
    val u = at(picture.u, column / 2, row / 2) - 128
    val v = at(picture.v, column / 2, row / 2) - 128
    val part = { value: Float -> max(0, min(255, value.roundToInt())) }
    val red = part(y + 1.793f * v)
    val green = part(y - 0.213f * u - 0.533f * v)
    val blue = part(y + 2.112f * u)
    return 0xFF shl 24 or (red shl 16) or (green shl 8) or blue
}
