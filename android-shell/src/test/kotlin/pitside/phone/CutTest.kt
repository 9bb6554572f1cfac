package pitside.phone

import java.nio.ByteBuffer
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import pitside.phone.take.Box
import pitside.phone.take.Decoded
import pitside.phone.take.Plane
import pitside.phone.take.Turned
import pitside.phone.take.boxOf
import pitside.phone.take.pixels
import uniffi.pitside_screen.Crop

/** What is cut out of a decoded picture, and where that is as it is stored. */
class CutTest {
    @Test
    fun `a crop is three to four and stays whole inside the picture`() {
        val box = boxOf(Crop(0.5, 0.5, 0.3), 1920, 1080)
        assertEquals(324.0, box.width, 1e-9)
        assertEquals(432.0, box.height, 1e-9)
        assertEquals(960.0, box.left + box.width / 2, 1e-9)
        val corner = boxOf(Crop(1.0, 1.0, 0.3), 1920, 1080)
        assertEquals(1920.0 - 324, corner.left, 1e-9)
        assertEquals(1080.0 - 432, corner.top, 1e-9)
        // Higher than the picture, it is in the middle and black outside.
        assertEquals(-180.0, boxOf(Crop(0.5, 0.9, 1.0), 1920, 1080).top, 1e-9)
    }

    @Test
    fun `a turned picture is shown upright`() {
        // The corner that is stored at the upper left comes to the upper right when it is turned clockwise.
        val turned = Turned(4, 2, 90, false)
        assertEquals(2 to 4, turned.shownWidth to turned.shownHeight)
        assertEquals(0 to 0, turned.stored(1, 0) { x, y -> x to y })
        assertEquals(3 to 0, turned.stored(1, 3) { x, y -> x to y })
        assertEquals(3 to 1, Turned(4, 2, 180, false).stored(0, 0) { x, y -> x to y })
        assertEquals(3 to 0, Turned(4, 2, 270, false).stored(0, 0) { x, y -> x to y })
        assertEquals(3 to 0, Turned(4, 2, 0, true).stored(0, 0) { x, y -> x to y })
        // Each point as it is shown is one that is stored, and each is one.
        for (turn in listOf(0, 90, 180, 270)) for (mirrored in listOf(false, true)) {
            val all = Turned(4, 2, turn, mirrored)
            val points = (0 until all.shownWidth).flatMap { x -> (0 until all.shownHeight).map { y -> all.stored(x, y) { p, q -> p to q } } }
            assertEquals((0..3).flatMap { p -> (0..1).map { q -> p to q } }.toSet(), points.toSet())
        }
    }

    /** Black, white and the primaries of ITU-R BT.709 in the narrow range (values from memory). */
    @Test
    fun `brightness and colour become pixels and strides are passed over`() {
        val red = Triple(63, 102, 240)
        val picture = picture(listOf(Triple(16, 128, 128), Triple(235, 128, 128), red, Triple(173, 42, 26)))
        val out = pixels(picture, Box(0.0, 0.0, 8.0, 2.0), 4, 1)
        val far = { a: Int, b: Int -> listOf(16, 8, 0).maxOf { kotlin.math.abs((a shr it and 255) - (b shr it and 255)) } }
        for ((at, wanted) in listOf(0xFF000000.toInt(), 0xFFFFFFFF.toInt(), 0xFFFF0000.toInt(), 0xFF00FF00.toInt()).withIndex()) {
            assertTrue("%x is not %x".format(out[at], wanted), far(out[at], wanted) <= 3)
        }
        // What lies outside is black.
        assertEquals(0, pixels(picture, Box(-8.0, 0.0, 8.0, 2.0), 4, 1).maxOrNull())
    }

    /** A picture of columns, each two wide and two high, with rows that are longer than the picture. */
    private fun picture(columns: List<Triple<Int, Int, Int>>): Decoded {
        val stride = columns.size * 2 + 5
        val y = ByteArray(stride * 2)
        val (u, v) = ByteArray(stride * 2) to ByteArray(stride * 2)
        columns.forEachIndexed { at, (bright, blue, red) ->
            for (row in 0..1) for (column in 0..1) y[row * stride + at * 2 + column] = bright.toByte()
            u[at * 2] = blue.toByte()
            v[at * 2] = red.toByte()
        }
        val plane = { bytes: ByteArray, step: Int -> Plane(ByteBuffer.wrap(bytes), stride, step) }
        return Decoded(plane(y, 1), plane(u, 2), plane(v, 2), Turned(columns.size * 2, 2, 0, false))
    }
}
