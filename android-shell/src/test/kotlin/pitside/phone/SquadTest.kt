package pitside.phone

import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test

/** The demo's squad on a coach's phone, and some of its athletes. */
class SquadTest : EveryWay() {
    private fun squad() = core { it.squad(phone.device.env()) }
    private fun athlete(name: String) = squad().athletes.first { it.name == name }

    override fun screens(way: String) {
        phone.demo(DemoBook.COACH)
        start()
        open("squad")
        look("$way-squad")
        tapSpoken(athlete("Aune").spoken)
        look("$way-athlete")
    }

    @Test
    fun `the squad is one call and an athlete one more`() {
        phone.demo(DemoBook.COACH)
        start()
        val cleo = athlete("Cleo")
        phone.counted.taken()
        open("squad")
        assertEquals(listOf("squad"), phone.counted.taken())
        tapSpoken(cleo.spoken)
        assertEquals(listOf("athlete"), phone.counted.taken())
        val clash = core { it.athlete(phone.device.env(), cleo.id, "") }.clashes.single()
        assertTrue("both values are there", clash.values.all { value -> root.all().any { it.contentDescription == "${value.text}, ${value.written}" } })
        look("athlete-clash", varies = true)
        val keep = clash.values[1]
        phone.counted.taken()
        tap("${keep.text}, ${keep.written}")
        assertEquals("nothing is written before the second touch", emptyList<String>(), phone.counted.taken())
        kill()
        phone.counted.taken()
        tap(keep.keep)
        assertEquals(listOf("settle", "athlete"), phone.counted.taken())
        assertTrue(core { it.athlete(phone.device.env(), cleo.id, "") }.clashes.isEmpty())
        assertTrue(clash.title !in root.texts())
    }

    @Test
    fun `what to look at leads to whom it is about`() {
        phone.demo(DemoBook.COACH)
        start()
        open("squad")
        val notice = squad().notices.first { it.who == "Dario" }
        tap("${notice.who}: ${notice.saw}")
        assertTrue(notice.mayDo in root.texts())
        look("squad-notice")
        tap("Dario")
        assertTrue(root.texts().toString(), core { it.athlete(phone.device.env(), athlete("Dario").id, "") }.hurts.first() in root.texts())
        look("athlete-hurts")
    }

    @Test
    fun `older sessions come one touch below`() {
        phone.demo(DemoBook.COACH)
        start()
        open(athlete("Aune").route)
        val sessions = core { it.athlete(phone.device.env(), athlete("Aune").id, "") }.sessions
        val shown = { sessions.filter { session -> root.all().any { it.contentDescription == session.spoken } } }
        assertEquals(sessions.take(8), shown())
        tap(phone.headings().older)
        assertEquals(sessions, shown())
    }
}
