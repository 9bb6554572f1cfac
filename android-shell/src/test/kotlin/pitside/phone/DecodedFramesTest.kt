package pitside.phone

import java.nio.ByteBuffer
import java.util.concurrent.atomic.AtomicInteger
import org.junit.After
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import org.robolectric.shadows.ShadowLooper
import pitside.phone.take.Area
import pitside.phone.take.Decoded
import pitside.phone.take.DecodedFrames
import pitside.phone.take.Decoding
import pitside.phone.take.Plane
import pitside.phone.take.Turned
import uniffi.pitside_screen.FrameIndex

/** A decoder as phones have them: it may give nothing, land early, or be taken away. */
private class Odd(private val frames: IntRange, private val gives: (Int) -> Boolean = { true }, private val lands: (Int) -> Int = { it }) : Decoding {
    override var at = -1
    override var drained = false
    val seeks = AtomicInteger()
    var breaks = 0
    @Volatile var closed = false
    private var next = 0

    override fun seek(key: Int) {
        seeks.incrementAndGet()
        at = key - 1
        next = lands(key)
        drained = false
    }

    override fun next(use: (Int, Decoded) -> Unit): Int? {
        if (breaks-- > 0) throw IllegalStateException("taken away")
        if (drained || next !in frames) {
            drained = true
            return null
        }
        val plane = Plane(ByteBuffer.allocate(4), 2, 1)
        if (gives(next)) use(next, Decoded(plane, plane, plane, Turned(2, 2, 0, false)))
        return next.also { at = it; next++ }
    }

    override fun close() {
        closed = true
    }
}

/** Pictures from decoders that do not do what they should: none of it goes on for ever. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34])
class DecodedFramesTest {
    private val made = mutableListOf<Odd>()
    private var failed = 0
    private lateinit var frames: DecodedFrames

    private fun open(vararg keys: Int, make: () -> Odd) {
        val index = FrameIndex(List(20) { it * 4_167L }, keys.map { it.toUInt() }, 0u, 0u, false)
        frames = DecodedFrames(index) { make().also { made += it } }
        frames.failed = { failed++ }
    }

    @After
    fun end() = frames.close()

    private fun until(what: String, there: () -> Boolean) {
        val patience = System.nanoTime() + 20_000_000_000
        while (!there()) {
            assertTrue(what, System.nanoTime() < patience)
            Thread.sleep(5)
            ShadowLooper.idleMainLooper()
        }
    }

    @Test
    fun `a decoder that gives no picture is given up and let go`() {
        open(0) { Odd(0..19, gives = { false }) }
        frames.want(listOf(4, 5), Area.Whole)
        until("it says so") { failed == 1 }
        assertTrue(made.single().closed)
    }

    @Test
    fun `a picture that is missing is sought once and the others come`() {
        open(0) { Odd(0..19, gives = { it != 4 }) }
        frames.want(listOf(4, 6, 5), Area.Whole)
        until("the others") { frames.picture(5) != null && frames.picture(6) != null }
        assertNull(frames.picture(4))
        assertEquals(0, failed)
        assertTrue("${made.single().seeks} seeks", made.single().seeks.get() <= 3)
    }

    @Test
    fun `a seek that lands before the key leads on to it`() {
        open(0, 10) { Odd(0..19, lands = { 0 }) }
        frames.want(listOf(12), Area.Whole)
        until("it is there") { frames.picture(12) != null }
        assertEquals(1, made.single().seeks.get())
    }

    @Test
    fun `after the end it goes back to what is wanted`() {
        open(0) { Odd(0..15) }
        frames.want(listOf(15, 18, 2), Area.Whole)
        until("what lies before the end") { frames.picture(15) != null && frames.picture(2) != null }
        assertNull("beyond the last one there is nothing to show", frames.picture(18))
        assertEquals(0, failed)
    }

    @Test
    fun `a decoder that was taken away is made anew once`() {
        open(0) { Odd(0..19).apply { if (made.isEmpty()) breaks = 1 } }
        frames.want(listOf(3), Area.Whole)
        until("from the second one") { frames.picture(3) != null }
        assertEquals(listOf(true, false), made.map { it.closed })
        assertEquals(0, failed)
    }

    @Test
    fun `a second one that breaks, too, is the last`() {
        open(0) { Odd(0..19).apply { breaks = 9 } }
        frames.want(listOf(3), Area.Whole)
        until("it says so") { failed == 1 }
        assertEquals(listOf(true, true), made.map { it.closed })
    }
}
