package pitside.phone

import android.view.View
import android.widget.Button
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.annotation.Config
import uniffi.pitside_screen.LogSet

/** The first screen, a set and a check-in. */
class FirstScreensTest : EveryWay() {
    /** A morning of an invented athlete: three sets of two exercises. */
    private fun aMorning() {
        val screen: LogSet = core { it.logSet(phone.device.env()) }
        val withBox = screen.exercises.first { exercise ->
            core { it.keepSet(screen.form.copy(exercise = exercise.id, leg = "")) }
            core { it.logSet(phone.device.env()) }.asksBox
        }
        val first = screen.exercises.first { it.id != withBox.id }
        val form = screen.form.copy(leg = "")
        core { it.logToday(phone.device.env(), "", form.copy(exercise = first.id, reps = 8u, sets = 2u)) }
        phone.minutes = 5
        core { it.logToday(phone.device.env(), "", form.copy(exercise = withBox.id, reps = 5u, boxMm = 300u)) }
    }

    override fun screens(way: String) {
        aMorning()
        start()
        look("$way-today")
        tap(core { it.today(phone.device.env()) }.actions[0].text)
        look("$way-log")
        activity.get().back()
        tap(core { it.today(phone.device.env()) }.actions[1].text)
        tap(phone.words().yes)
        tap(core { it.checkInForm(phone.device.env(), "") }.parts[5].text)
        val place = core { it.checkInForm(phone.device.env(), "") }.parts[5].text
        tap("${phone.words().more}, ${phone.words().score}, $place")
        look("$way-check-in")
    }

    @Config(qualifiers = "ar-ldrtl-w360dp-h740dp-xhdpi")
    @Test fun `answers stand from right to left`() {
        start()
        open("check-in")
        assertTrue("the first answer stands at the right", root.button(phone.words().no).left > root.button(phone.words().yes).left)
    }

    @Config(qualifiers = "de-w360dp-h740dp-xhdpi")
    @Test fun `the questions are German`() {
        start()
        open("check-in")
        assertTrue(root.texts().toString(), "Tut etwas weh?" in root.texts())
    }

    @Test
    fun `a place is one touch and the way back is the first one`() {
        start()
        tap("More")
        assertTrue(root.button("More").isSelected)
        look("more")
        activity.get().back()
        assertTrue(root.button("Today").isSelected)
        open("log-set")
        assertTrue("a form has the whole screen", root.all().filterIsInstance<Button>().none { it.isShown && it.text == "Today" })
    }

    @Test fun `the first start needs nothing but the phone`() {
        start()
        look("first-start")
    }

    @Test
    fun `the same set again is two touches and two actions`() {
        aMorning()
        start()
        phone.counted.taken()
        tap("Log a set")
        tap(R.id.save)
        assertEquals(listOf("logSet", "logToday", "today"), phone.counted.taken())
        val row = core { it.today(phone.device.env()) }.sessions.single()
        assertTrue("back on the first screen", root.all().any { it.contentDescription == row.spoken })
        assertTrue(core { it.today(phone.device.env()) }.carried.startsWith("4 sets"))
    }

    @Test
    fun `what was tapped and where is there again after the process died`() {
        aMorning()
        start()
        tap("Log a set")
        tap("More, Repetitions")
        tap("More, Repetitions")
        kill()
        assertTrue(root.all().any { it.contentDescription == "Repetitions: 7" })
        activity.get().back()
        assertEquals("Go on with the set that is filled in", root.all().filterIsInstance<Button>().first().text)
    }

    @Test
    fun `what hurts is asked once and unfolds on yes`() {
        start()
        tap("Say how you are")
        assertTrue("nothing to save before the answer", root.findViewById<View>(R.id.save) == null)
        assertTrue("Achilles tendon" !in root.texts())
        tap("Yes")
        tap("Achilles tendon")
        tap("Achilles tendon, left")
        tap("Do you limp?")
        assertTrue("no score is not a low one", root.findViewById<View>(R.id.save) == null)
        tap("More, How much, Achilles tendon")
        tap("More, How much, Achilles tendon")
        kill()
        tap(R.id.save)
        val saved = core { it.checkInForm(phone.device.env(), "") }.form
        assertEquals(listOf("limp"), saved.signs)
        val hurt = saved.hurts.single()
        assertEquals(Triple("achilles", "left", 2), Triple(hurt.part, hurt.side, hurt.score.toInt()))
        look("after-pain")
        assertTrue("what follows is read before it is left", root.texts().any { it.startsWith("You can end the session") })
        tap("Back")
        assertTrue(root.texts().toString(), "Log a set" in root.texts())
    }

    @Test
    fun `nothing hurts is an answer of one touch`() {
        start()
        tap("Say how you are")
        tap("No")
        tap(R.id.save)
        assertEquals(1, core { it.today(phone.device.env()) }.actions.count { it.route == "check-in" })
        assertTrue(core { it.checkInForm(phone.device.env(), "") }.form.hurts.isEmpty())
    }

    @Test
    fun `a book that cannot be opened is said with a way to try again`() {
        phone.folder.deleteRecursively()
        phone.folder.writeText("in the way")
        start()
        assertTrue(root.texts().toString(), "That did not work." in root.texts())
        phone.folder.delete()
        tap("Try again")
        assertTrue(root.texts().toString(), "Wed 25 Nov 2026" in root.texts())
    }
}
