package pitside.phone

import android.os.Build
import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper
import org.robolectric.util.ReflectionHelpers

/** A phone whose book can be made to wait: what is asked is done when a test says so. */
class LatePhone : TestPhone() {
    private val waiting = ArrayDeque<Runnable>()
    var late = false

    override fun makeBook(): Book = Book({ if (late) waiting += it else it.run() }, { it.run() }, ::open)

    /** Does all that waits, in its order. */
    fun catchUp() {
        late = false
        while (waiting.isNotEmpty()) waiting.removeFirst().run()
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
