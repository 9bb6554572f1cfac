package pitside.phone

import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Color
import android.graphics.Paint
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode

/** That the comparison sees what a person would, and not what a person would not. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34], application = TestPhone::class)
class GoldenTest {
    private fun words(words: String, moved: Float = 0f): Bitmap {
        val bitmap = Bitmap.createBitmap(720, 1480, Bitmap.Config.ARGB_8888)
        Canvas(bitmap).apply {
            drawColor(Color.WHITE)
            drawText(words, 40f + moved, 200f, Paint().apply { textSize = 34f; isAntiAlias = true })
        }
        return bitmap
    }

    @Test
    fun `another sentence is seen, the edge of a letter is not`() {
        val golden = "GoldenTest/words"
        assertEquals(emptyList<String>(), changed(words("7 sets only on this phone, the oldest from Tuesday"), golden))
        assertEquals(emptyList<String>(), changed(words("7 sets only on this phone, the oldest from Tuesday", moved = 0.4f), golden))
        if (System.getenv("PITSIDE_ACCEPT") != null) return
        assertTrue(changed(words("Nothing is on this phone only."), golden).isNotEmpty())
        assertTrue(changed(words("7 sets only on this phone, the oldest from Tuesday", moved = 24f), golden).isNotEmpty())
        assertTrue(changed(words("anything"), "GoldenTest/nowhere").single().contains("--accept"))
    }
}
