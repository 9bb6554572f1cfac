package pitside.phone

import android.os.Build
import android.view.View
import android.widget.Button
import java.lang.reflect.InvocationTargetException
import java.lang.reflect.Proxy
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper
import org.robolectric.util.ReflectionHelpers
import uniffi.pitside_screen.PitsideInterface

/** A phone whose book can be made to wait: what is asked is done when a test says so, and some of it can be made to fail. */
class LatePhone : TestPhone() {
    private val waiting = ArrayDeque<Runnable>()
    var late = false

    /** The calls that fail, as they do where the phone's memory is full. */
    val failing = mutableSetOf<String>()

    override fun open(): PitsideInterface {
        val border = super.open()
        return Proxy.newProxyInstance(PitsideInterface::class.java.classLoader, arrayOf(PitsideInterface::class.java)) { _, method, arguments ->
            if (method.name in failing) error("no room")
            try {
                method.invoke(border, *(arguments ?: emptyArray()))
            } catch (e: InvocationTargetException) {
                throw e.targetException
            }
        } as PitsideInterface
    }

    override fun makeBook(): Book = Book({ if (late) waiting += it else it.run() }, { it.run() }, ::open)

    /** Does all that waits, in its order; what is asked on the way comes after it. */
    fun catchUp() {
        while (waiting.isNotEmpty()) waiting.removeFirst().run()
        late = false
        ShadowLooper.idleMainLooper()
    }
}

/** Fingers are quicker than the book, and people go on before it answers. */
@Config(application = LatePhone::class)
class LateTest : ScreenTest() {
    private val slow get() = phone as LatePhone
    private val env get() = phone.device.env()
    private val title get() = root.texts().first()

    /** A view that is touched again before what it does was answered. */
    private fun twice(view: View) {
        slow.late = true
        view.performClick()
        view.performClick()
        slow.catchUp()
    }

    private fun reps() = core { it.sessionLog(env, core { it.today(env) }.sessions.single().id) }.sets.map { it.text.substringBefore(' ') }

    @Test
    fun `a second tap on what saves does not leave two screens`() {
        val session = core { it.logToday(env, "", it.logSet(env).form) }
        val set = core { it.sessionLog(env, session.substringAfter('/')) }.sets.single().route
        start()
        for (route in listOf(session.replace("session", "effort"), "check-in", set)) {
            open("course")
            open(route)
            if (route == "check-in") tap("No")
            if ("effort" in route) {
                tap("6")
                tap("More, Minutes, with the warm-up")
            }
            twice(root.findViewById(R.id.save))
            assertEquals(route, core { it.ownCourse(env, "") }.title, title)
            activity.get().back()
        }
    }

    @Test
    fun `who has gone on before a set was saved stays where they are`() {
        start()
        open("course")
        open("log-set")
        slow.late = true
        root.findViewById<View>(R.id.save).performClick()
        activity.get().back()
        slow.catchUp()
        assertEquals(core { it.ownCourse(env, "") }.title, title)
        assertEquals(1, reps().size)
    }

    @Test
    fun `a set that could not be saved is told wherever the person is, until it is written`() {
        start()
        open("log-set")
        val heading = title
        slow.failing += "logToday"
        slow.late = true
        root.findViewById<View>(R.id.save).performClick()
        activity.get().back()
        activity.get().open("course")
        slow.catchUp()
        val told = { "Not saved" in root.texts() }
        assertEquals(core { it.ownCourse(env, "") }.title, title)
        assertTrue(root.texts().toString(), told() && heading in root.texts() && IllegalStateException("no room").inWords(env).text in root.texts())
        look("not-saved")
        // It goes along, also when the phone is turned, and stays where it fails once more.
        activity.recreate()
        activity.get().back()
        tap("Try again")
        assertTrue(told())
        assertTrue("nothing was written", core { it.today(env) }.sessions.isEmpty())
        slow.failing.clear()
        slow.late = true
        repeat(2) { root.button("Try again").performClick() }
        slow.catchUp()
        assertFalse(told())
        assertEquals("written once", 1, reps().size)
        assertTrue("and shown", root.texts().any { it.startsWith("1 set only on this device") })
    }

    @Test
    fun `what was not saved can be let go`() {
        start()
        open("log-set")
        tap("More, Repetitions")
        slow.failing += "logToday"
        slow.late = true
        root.findViewById<View>(R.id.save).performClick()
        activity.get().back()
        slow.catchUp()
        tap("Stop trying")
        assertFalse("Not saved" in root.texts())
        assertEquals("what was filled in is still there", "Go on with the set that is filled in", root.all().filterIsInstance<Button>().first().text)
    }

    @Test
    fun `a phone that is turned while a set is saved closes the screen as one that is not`() {
        start()
        open("course")
        open("log-set")
        slow.late = true
        root.findViewById<View>(R.id.save).performClick()
        activity.recreate()
        // The screen that is drawn anew saves nothing a second time.
        root.findViewById<View?>(R.id.save)?.performClick()
        slow.catchUp()
        assertEquals(core { it.ownCourse(env, "") }.title, title)
        assertEquals(1, reps().size)
    }

    @Test
    fun `a phone that is turned while a save fails says so on the screen that is still open`() {
        start()
        open("log-set")
        slow.failing += "logToday"
        slow.late = true
        root.findViewById<View>(R.id.save).performClick()
        activity.recreate()
        slow.catchUp()
        assertEquals("That did not work.", title)
        assertFalse("it is said once", "Not saved" in root.texts())
        slow.failing.clear()
        tap("Try again")
        tap(R.id.save)
        assertEquals(1, reps().size)
    }

    @Test
    fun `what follows from a check-in is read also where the phone was turned meanwhile`() {
        start()
        open("check-in")
        tap("Yes")
        tap("Achilles tendon")
        repeat(2) { tap("More, How much, Achilles tendon") }
        tap("Do you limp?")
        slow.late = true
        root.findViewById<View>(R.id.save).performClick()
        activity.recreate()
        slow.catchUp()
        assertTrue(root.texts().toString(), root.texts().any { it.startsWith("You can end the session") })
        tap("Back")
        assertEquals(core { it.today(env) }.title, title)
    }

    @Test
    fun `what was tapped and not saved outlives an app that was swiped away`() {
        val session = core { it.logToday(env, "", it.logSet(env).form) }
        val swiped = {
            activity.destroy()
            phone.forget()
            start()
        }
        start()
        open("check-in")
        tap("Yes")
        tap("Achilles tendon")
        tap("Achilles tendon, left")
        swiped()
        open("check-in")
        assertNotNull(root.button("More, How much, Achilles tendon"))
        assertNull("no score is not a low one", root.findViewById<View>(R.id.save))
        val effort = session.replace("session", "effort")
        open(effort)
        tap("6")
        tap("More, Minutes, with the warm-up")
        swiped()
        open(effort)
        tap(R.id.save)
        assertEquals(60, core { it.effort(env, session.substringAfter('/')) }.scale.single { it.chosen }.id.toInt())
    }

    @Test
    fun `going back before the book is open leads to what was before`() {
        slow.late = true
        start()
        activity.get().open("course")
        activity.get().back()
        slow.catchUp()
        assertEquals(core { it.today(env) }.title, title)
        assertFalse(activity.get().isFinishing)
    }

    @Test
    fun `quick taps add up and the last of them is what is saved`() {
        start()
        open("log-set")
        val before = core { it.logSet(env) }.form.reps.toInt()
        slow.late = true
        val more = root.button("More, Repetitions")
        repeat(3) { more.performClick() }
        root.findViewById<View>(R.id.save).performClick()
        slow.catchUp()
        assertEquals(listOf("${before + 3}"), reps())
        open(core { it.sessionLog(env, core { it.today(env) }.sessions.single().id) }.sets.single().route)
        slow.late = true
        val less = root.button("Less, Repetitions")
        repeat(2) { less.performClick() }
        root.findViewById<View>(R.id.save).performClick()
        slow.catchUp()
        assertEquals(listOf("${before + 1}"), reps())
    }

    @Test
    fun `a button goes on from what is filled in, also where it was drawn before`() {
        start()
        open("log-set")
        val before = core { it.logSet(env) }.form.reps.toInt()
        val more = root.button("More, Repetitions")
        repeat(2) { more.performClick() }
        assertNotNull(root.all().firstOrNull { it.contentDescription == "Repetitions: ${before + 2}" })
    }

    @Test
    fun `a system that knows no headings draws every screen`() {
        val now = Build.VERSION.SDK_INT
        ReflectionHelpers.setStaticField(Build.VERSION::class.java, "SDK_INT", 26)
        try {
            start()
            for (route in listOf("course", "squad", "log-set")) {
                open(route)
                assertTrue(root.texts().isNotEmpty())
                assertTrue("asked for what is newer", root.all().none { it.isAccessibilityHeading })
            }
        } finally {
            ReflectionHelpers.setStaticField(Build.VERSION::class.java, "SDK_INT", now)
        }
    }
}
