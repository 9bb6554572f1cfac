package pitside.phone

import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder
import org.robolectric.shadows.ShadowLooper

/** The coach asks an athlete's phone to erase; its person decides. */
class WishesTest : EveryWay() {
    @get:Rule val folder = TemporaryFolder()

    private val env get() = phone.device.env()
    private val wishes get() = core { it.wishes(env) }
    private val bar: View get() = root.findViewById(R.id.hold)

    /** The coach erased Aune, and her phone heard of it. */
    private fun asked() {
        phone.demo("aune")
        start()
        Elsewhere(DemoBook.COACH, folder.root, env).use { coach ->
            coach.book.eraseMember(env, coach.book.squad(env).athletes.first { it.name == "Aune" }.id)
            core { coach.handTo(it) }
        }
        activity.recreate()
        ShadowLooper.idleMainLooper()
    }

    override fun screens(way: String) {
        asked()
        look("$way-notice")
        open("wishes")
        look("$way-wish")
        tap(R.id.save)
        look("$way-wish-kept")
        hold(bar)
        look("$way-wish-agreed")
    }

    @Test
    fun `it is told where a person is, and leads to the question`() {
        asked()
        val notice = core { it.today(env) }.notices.single().text
        for (place in listOf("today", "exchange", "more")) {
            open(place)
            phone.counted.taken()
            tapSpoken(notice)
            assertEquals(place, listOf("wishes"), phone.counted.taken())
            assertTrue(root.texts().toString(), wishes.wishes.single().means.all { it in root.texts() })
        }
    }

    @Test
    fun `keeping is a tap, ends the notice and outlives the process`() {
        asked()
        open("wishes")
        phone.counted.taken()
        tap(R.id.save)
        assertEquals(listOf("keepWhatIsHere", "wishes"), phone.counted.taken())
        kill()
        assertTrue(wishes.wishes.single().answered in root.texts())
        assertNull("it was answered", root.findViewById(R.id.save))
        assertTrue(core { it.today(env) }.notices.isEmpty())
        assertTrue("her weeks are there", core { it.ownCourse(env, "") }.takes.isNotEmpty())
        // Whoever changes their mind finds it again.
        open("devices")
        tap(core { it.devices(env) }.links.first { it.route == "wishes" }.text)
        hold(bar)
        assertTrue(wishes.none in root.texts())
    }

    @Test
    fun `agreeing has to be held, and then nothing of her is left and the phone goes on`() {
        asked()
        open("wishes")
        touch(bar, TAP_MS)
        assertEquals("rain", 1, wishes.wishes.size)
        phone.counted.taken()
        hold(bar)
        assertEquals(listOf("agreeToErase", "today", "wishes"), phone.counted.taken())
        assertTrue(wishes.none in root.texts())
        assertTrue(core { it.today(env) }.notices.isEmpty())
        for (place in listOf("today", "times", "course", "exchange", "more", "devices", "log-set")) {
            open(place)
            assertFalse(place, phone.words().failed in root.texts())
            assertFalse(place, root.texts().any { "Aune" in it })
        }
    }
}
