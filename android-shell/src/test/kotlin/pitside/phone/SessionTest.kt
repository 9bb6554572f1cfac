package pitside.phone

import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.shadows.ShadowLooper

/** A session with everything that can be said of it. */
class SessionScreensTest : EveryWay() {
    override fun screens(way: String) {
        val log = core { it.logSet(phone.device.env()) }
        var session = ""
        twoExercises(phone, { form -> session = core { it.logToday(phone.device.env(), "", form) } }, log.exercises, log.form)
        val id = session.substringAfter('/')
        core { it.sayCondition(phone.device.env(), id, "wetness", "wet") }
        core { it.cutShort(phone.device.env(), id, "pain") }
        start()
        open(session)
        look("$way-session")
        tap(core { it.sessionLog(phone.device.env(), id) }.conditionsLabel)
        look("$way-session-conditions")
        open("correct/${core { it.sessionLog(phone.device.env(), id) }.sets[0].id}")
        look("$way-correct")
    }
}

class SessionTest : ScreenTest() {
    private lateinit var session: String
    private val log get() = core { it.sessionLog(phone.device.env(), session) }

    private fun begin() {
        val form = core { it.logSet(phone.device.env()) }.form
        session = core { it.logToday(phone.device.env(), "", form.copy(sets = 2u)) }.substringAfter('/')
        start()
        open("session/$session")
        phone.counted.taken()
    }

    private fun row(spoken: String): View = root.all().first { it.contentDescription == spoken }

    /** A row is held as the system holds. */
    private fun press(row: View) {
        assertTrue("it answers to being held", row.performLongClick())
        ShadowLooper.idleMainLooper()
    }

    private val bar: View get() = root.findViewById(R.id.hold)

    @Test
    fun `a set is put right by holding it and not by a tap`() {
        begin()
        val first = log.sets[0]
        phone.counted.taken()
        row(first.spoken).performClick()
        assertEquals("rain", emptyList<String>(), phone.counted.taken())
        press(row(first.spoken))
        tap("More, Repetitions")
        assertEquals(listOf("correction", "keepCorrection", "correction"), phone.counted.taken())
        kill()
        assertTrue("what was tapped is there again", root.all().any { it.contentDescription == "Repetitions: 11" })
        phone.counted.taken()
        tap(R.id.save)
        assertEquals(listOf("correctSet", "sessionLog"), phone.counted.taken())
        assertEquals(1, log.sets.count { it.text.startsWith("11 ×") })
        assertEquals(2, log.sets.size)
    }

    @Test
    fun `a set is taken back by holding and not by a tap`() {
        begin()
        press(row(log.sets[0].spoken))
        touch(bar, 80)
        assertEquals(2, log.sets.size)
        hold(bar)
        assertEquals(1, log.sets.size)
        assertTrue("back in the session", root.all().any { it.contentDescription == log.sets[0].spoken })
    }

    @Test
    fun `cut short with a reason is one touch, and its way back has to be held`() {
        begin()
        tap("Cut short, because of … pain")
        assertEquals(listOf("cutShort", "sessionLog"), phone.counted.taken())
        assertEquals("pain", log.cut.single { it.chosen }.id)
        assertTrue("where it hurts can be said", "Say how you are" in root.texts())
        touch(bar, 80)
        assertEquals("pain", log.cut.single { it.chosen }.id)
        hold(bar)
        assertTrue(log.cut.none { it.chosen })
    }

    @Test
    fun `conditions are one touch each and stay unfolded`() {
        begin()
        tap("Ground, weather, shoes")
        assertEquals("nothing is asked for it", emptyList<String>(), phone.counted.taken())
        tap("How wet: wet")
        tap("Wind: headwind")
        assertEquals(listOf("sayCondition", "sessionLog", "sayCondition", "sessionLog"), phone.counted.taken())
        kill()
        tap("How wet: wet")
        val chosen = log.conditions.flatMap { it.choices }.filter { it.chosen }.map { it.id }
        assertEquals("a second touch unsays it", listOf("head"), chosen)
    }
}
