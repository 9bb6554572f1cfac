package pitside.phone

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import uniffi.pitside_screen.PlanForm
import uniffi.pitside_screen.PlanRow
import uniffi.pitside_screen.PlanRowForm

/** What is planned for an athlete of the demo's squad. The coach planned her next Tuesday. */
class PlansTest : EveryWay() {
    private val env get() = phone.device.env()
    private val plans get() = core { it.plans(env, "") }
    private fun titled(plan: PlanRow) = "${plan.day}: ${plan.purpose}"

    /** She plans for herself too. */
    private fun plan(day: String, purpose: String, note: String) {
        val id = core { it.planForm(DemoBook.evening("en"), "", "", false) }.exercises.first { it.text == "Pogo, two legs" }.id
        val row = PlanRowForm(0u, id, 3u, 10u, "", false, null, null, null, null, "", "quick off the ground", 60u, null, false)
        core { it.savePlan(env, PlanForm("", "", listOf(plans.member), day, purpose, note, listOf(row))) }
    }

    private fun aune() {
        phone.demo("aune")
        phone.minutes = -2 * DAY
        plan("", "easy rebounds", "")
        phone.minutes = 0
        plan("2026-04-04", "rebounds at home", "Bring the flat shoes.")
    }

    override fun screens(way: String) {
        aune()
        start()
        open("plans/${plans.member}")
        look("$way-plans")
        tap(titled(plans.coming[1]))
        tap(phone.headings().earlierPlans)
        tap(titled(plans.earlier.first()))
        look("$way-plans-open")
    }

    @Test
    fun `it is one call, and the next session stands open with its cues`() {
        aune()
        start()
        phone.counted.taken()
        open("plans/${plans.member}")
        assertEquals(listOf("plans", "plans"), phone.counted.taken())
        val (next, later) = plans.coming
        assertEquals("Tue 31 Mar 2026: short contacts", titled(next))
        assertTrue(next.rows.toString(), next.rows.any { it.endsWith("stiff ankles") } && next.rows.all { it in root.texts() })
        assertFalse(later.note in root.texts())
        phone.counted.taken()
        tap(titled(later))
        assertEquals("what unfolds was there already", emptyList<String>(), phone.counted.taken())
        assertTrue("what to bring", later.note in root.texts() && later.rows.all { it in root.texts() })
        kill()
        assertTrue("it is unfolded still", later.note in root.texts())
    }

    @Test
    fun `the first screen and the course lead there`() {
        aune()
        start()
        val coming = core { it.today(env) }.coming.single()
        assertEquals("Planned Tue 31 Mar: short contacts", coming.text)
        look("today-coming")
        tapSpoken(coming.text)
        assertTrue(plans.title in root.texts())
        open("course")
        tap(core { it.ownCourse(env, "") }.links.first { it.route.startsWith("plans/") }.text)
        assertTrue(plans.title in root.texts())
    }

    @Test
    fun `a coach's phone has the same from the athlete`() {
        phone.demo(DemoBook.COACH)
        start()
        val cleo = core { it.squad(env) }.athletes.first { it.name == "Cleo" }
        open(cleo.route)
        tap(core { it.athlete(env, cleo.id, "") }.links.first { it.route.startsWith("plans/") }.text)
        val plans = core { it.plans(env, cleo.id) }
        assertTrue(root.texts().toString(), plans.coming.single().rows.all { it in root.texts() })
    }

    @Test
    fun `where nothing is planned that is said`() {
        start()
        assertTrue(core { it.today(env) }.coming.isEmpty())
        open("plans/${plans.member}")
        assertTrue(plans.none in root.texts())
        look("plans-none")
    }

    private companion object {
        const val DAY = 24 * 60
    }
}
