package pitside.phone

import android.os.Bundle
import android.view.View
import android.widget.Button
import org.junit.After
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.android.controller.ActivityController
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import uniffi.pitside_screen.LogSet
import uniffi.pitside_screen.PitsideInterface

/** The screens on the framework of Android 14, over a real book. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34], application = TestPhone::class, qualifiers = "en-w360dp-h740dp-xhdpi")
class ScreensTest {
    private val phone get() = RuntimeEnvironment.getApplication() as TestPhone
    private lateinit var activity: ActivityController<MainActivity>
    private val root: View get() = activity.get().findViewById<View>(android.R.id.content)

    @After
    fun end() {
        phone.onTerminate()
    }

    private fun start(state: Bundle? = null) {
        activity = Robolectric.buildActivity(MainActivity::class.java)
        if (state == null) activity.setup() else activity.setup(state)
    }

    private fun tap(spoken: String) {
        root.button(spoken).performClick()
        org.robolectric.shadows.ShadowLooper.idleMainLooper()
    }

    private fun tap(id: Int) {
        root.findViewById<Button>(id).performClick()
        org.robolectric.shadows.ShadowLooper.idleMainLooper()
    }

    private fun <T> core(call: (PitsideInterface) -> T): T {
        var got: Answer<T>? = null
        phone.book.ask(call) { got = it }
        return (got as Answer.Good<T>).value
    }

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

    private fun look(name: String) {
        org.robolectric.shadows.ShadowLooper.idleMainLooper()
        val drawn = picture(root, name)
        assertEquals(name, emptyList<String>(), faults(root) + pale(root, drawn))
    }

    private fun everyScreen(name: String) {
        aMorning()
        start()
        look("$name-today")
        tap(core { it.today(phone.device.env()) }.actions[0].text)
        look("$name-log")
        activity.get().back()
        tap(core { it.today(phone.device.env()) }.actions[1].text)
        tap(phone.words().yes)
        tap(core { it.checkInForm(phone.device.env(), "") }.parts[5].text)
        val place = core { it.checkInForm(phone.device.env(), "") }.parts[5].text
        tap("${phone.words().more}, ${phone.words().score}, $place")
        look("$name-check-in")
    }

    @Test fun light() = everyScreen("light")

    @Config(qualifiers = "+night")
    @Test fun dark() = everyScreen("dark")

    @Test fun `high contrast`() {
        phone.high = true
        everyScreen("high-contrast")
    }

    @Config(qualifiers = "+night")
    @Test fun `high contrast in the dark`() {
        phone.high = true
        everyScreen("high-contrast-dark")
    }

    @Test fun `letters twice as large`() {
        RuntimeEnvironment.setFontScale(2f)
        everyScreen("font-2")
    }

    @Config(qualifiers = "ar-ldrtl-w360dp-h740dp-xhdpi")
    @Test fun `from right to left`() {
        everyScreen("rtl")
        val no = root.button(phone.words().no)
        val yes = root.button(phone.words().yes)
        assertTrue("the first answer stands at the right", no.left > yes.left)
    }

    @Config(qualifiers = "en-w740dp-h360dp-land-xhdpi")
    @Test fun landscape() = everyScreen("landscape")

    @Config(qualifiers = "de-w360dp-h740dp-xhdpi")
    @Test fun german() {
        everyScreen("german")
        assertTrue(root.texts().toString(), "Tut etwas weh?" in root.texts())
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
        val state = Bundle().also { activity.saveInstanceState(it) }
        activity.destroy()
        start(state)
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
        val state = Bundle().also { activity.saveInstanceState(it) }
        activity.destroy()
        start(state)
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
