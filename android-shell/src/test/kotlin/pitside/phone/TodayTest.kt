package pitside.phone

import android.view.View
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.Button
import android.widget.TextView
import java.time.Duration
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper
import uniffi.pitside_screen.CheckInForm
import uniffi.pitside_screen.PlanForm
import uniffi.pitside_screen.PlanRowForm
import uniffi.pitside_screen.PlannedSession

/** What a phone was asked to tell at the end of a rest; nothing vibrates on a JVM. */
class Asked : Pulse {
    var ms: Long? = null
    override fun after(ms: Long) { this.ms = ms }
    override fun cancel() { ms = null }
    override fun over(at: Long) = cancel()
}

class PulsePhone : TestPhone() {
    val asked = Asked()
    override fun makePulse(): Pulse = asked
}

/** The session to do: done as planned, otherwise, between two sets, and taken back. */
@Config(application = PulsePhone::class)
class TodayTest : EveryWay() {
    private val asked get() = (phone as PulsePhone).asked
    private val words get() = phone.words()
    private val plan: PlannedSession get() = core { it.today(phone.device.env()) }.plans.single()

    private fun row(exercise: String, sets: Int, reps: Int, change: PlanRowForm.() -> PlanRowForm = { this }): PlanRowForm {
        // By its English name, whatever the phone speaks.
        val id = core { it.planForm(morning("en"), "", "", false) }.exercises.first { it.text == exercise }.id
        return PlanRowForm(0u, id, sets.toUShort(), reps.toUShort(), "", false, null, null, null, null, "", "", null, null, false).change()
    }

    /** An invented session: low rebounds, bounds in turn with a run-in, and falls from a box. */
    private fun planned() {
        val member = core { it.plans(phone.device.env(), "") }.member
        val rows = listOf(
            row("Pogo, two legs", 2, 10) { copy(say = "quick off the ground", restS = 90u) },
            row("Bounds with a run-in", 3, 1) { copy(strides = 4u, swap = true, restTimes = 8u) },
            row("Drop jump", 2, 5) { copy(boxMm = 300u, cue = "short", restS = 120u, say = "meet the ground stiff") },
        )
        val form = PlanForm("", "", listOf(member), "", "short contacts, then speed", "On grass, if it is dry.", rows)
        core { it.savePlan(phone.device.env(), form) }
    }

    override fun screens(way: String) {
        planned()
        start()
        look("$way-plan")
        tap(R.id.done_as_planned)
        look("$way-locked")
        hold(root.findViewById(R.id.hold))
        look("$way-resting")
        tap("${words.doneOtherwise}: ${plan.rows[1].text}")
        tap("${words.doneOtherwise}: ${plan.rows[2].text}")
        look("$way-otherwise")
        phone.minutes = 2
        activity.recreate()
        tap("${words.doneOtherwise}: ${plan.rows[0].text}")
        look("$way-rest-over")
    }

    private fun clock() = root.findViewById<TextView>(R.id.rest)?.text?.toString()

    @Test
    fun `a set as planned is one touch and one action`() {
        planned()
        start()
        phone.counted.taken()
        tap(R.id.done_as_planned)
        // Kotlin writes a hash behind the name where an argument is unsigned.
        assertEquals(listOf("doneAsPlanned", "today"), phone.counted.taken().map { it.substringBefore('-') })
        assertEquals("1 of 2 sets done", plan.rows[0].progress)
        assertEquals("1:30", clock())
        assertEquals(90_000L, asked.ms)
        val text = root.texts()
        assertTrue(text.toString(), "10 × Pogo, two legs" in text && "quick off the ground" in text)
    }

    @Test
    fun `a wide button is at least 64 dp high and left and right change by themselves`() {
        planned()
        start()
        val wide = root.all().filterIsInstance<Button>().filter { it.contentDescription?.startsWith("Done as planned") == true }.toList()
        assertEquals("one a row", 3, wide.size)
        assertTrue(wide.all { it.height >= 64 * it.resources.displayMetrics.density })
        repeat(2) {
            assertTrue(plan.rows[1].text, plan.rows[1].text.contains(if (it == 0) "left first" else "right first"))
            tap("Done as planned: ${plan.rows[1].text}")
            hold(root.findViewById(R.id.hold))
        }
        assertTrue(plan.rows[1].text, plan.rows[1].text.contains("left first"))
    }

    @Test
    fun `rain on the locked screen does nothing and a held bar unlocks it`() {
        planned()
        start()
        tap(R.id.done_as_planned)
        val before = core { it.today(phone.device.env()) }
        phone.counted.taken()
        val bar = root.findViewById<View>(R.id.hold)
        assertTrue("nothing else answers", root.all().none { it.isShown && it.isClickable && it !== bar })
        val drops = listOf(bar) + root.all().filter { it.isShown && it.width > 0 }
        for (drop in drops) repeat(3) { touch(drop, 40L + 90 * it) }
        touch(bar, 780)
        assertEquals("no call was made", emptyList<String>(), phone.counted.taken())
        assertEquals(before, core { it.today(phone.device.env()) })
        phone.counted.taken()
        hold(bar)
        assertEquals(listOf("lockBetween", "today"), phone.counted.taken())
        assertTrue(root.findViewById<View>(R.id.done_as_planned).isShown)
        assertEquals("the rest goes on", "1:30", clock())
        tap(words.lock)
        assertTrue(core { it.today(phone.device.env()) }.between!!.locked)
    }

    @Test
    fun `two fingers of rain do not add up to a hold`() {
        planned()
        start()
        tap(R.id.done_as_planned)
        val bar = root.findViewById<View>(R.id.hold)
        repeat(6) { touch(bar, 300) }
        assertTrue(core { it.today(phone.device.env()) }.between!!.locked)
    }

    @Test
    fun `a reader unlocks by its own action`() {
        planned()
        start()
        tap(R.id.done_as_planned)
        val bar = root.findViewById<View>(R.id.hold)
        val info = bar.createAccessibilityNodeInfo()
        assertEquals("Unlock", info.contentDescription)
        assertTrue(info.actionList.any { it.id == AccessibilityNodeInfo.ACTION_CLICK && it.label == "Unlock" })
        assertTrue(bar.performAccessibilityAction(AccessibilityNodeInfo.ACTION_CLICK, null))
        ShadowLooper.idleMainLooper()
        assertFalse(core { it.today(phone.device.env()) }.between!!.locked)
    }

    @Test
    fun `lock and rest are there again after the process died`() {
        planned()
        start()
        tap(R.id.done_as_planned)
        phone.minutes = 1
        kill()
        assertEquals("0:30", clock())
        assertEquals(30_000L, asked.ms)
        assertTrue(root.findViewById<View>(R.id.hold).isShown)
        phone.minutes = 2
        kill()
        assertEquals("The rest is over.", clock())
        assertNull("nothing more to tell", asked.ms)
        assertTrue("over, and still locked", root.findViewById<View>(R.id.done_as_planned) == null)
    }

    @Test
    fun `the clock runs to the end by itself`() {
        planned()
        start()
        tap(R.id.done_as_planned)
        phone.minutes = 1
        ShadowLooper.shadowMainLooper().idleFor(Duration.ofSeconds(2))
        assertEquals("0:30", clock())
        assertTrue("it is looked at", root.findViewById<View>(R.id.rest).keepScreenOn)
        phone.minutes = 2
        ShadowLooper.shadowMainLooper().idleFor(Duration.ofSeconds(2))
        assertEquals("The rest is over.", clock())
        assertFalse(root.findViewById<View>(R.id.rest).keepScreenOn)
    }

    @Test
    fun `what was done otherwise is saved as it was and kept when the process dies`() {
        planned()
        start()
        tap("Done otherwise: ${plan.rows[2].text}")
        tap("Less, Repetitions")
        tap("More, Height of the box")
        kill()
        assertTrue(root.all().any { it.contentDescription == "Repetitions: 4" })
        tap(R.id.save)
        val row = plan.rows[2]
        assertEquals(1.toUShort(), row.done)
        assertTrue(row.last!!.text, row.last!!.text.startsWith("4 × Drop jump, box 35 cm"))
        assertEquals("the plan stays", 5.toUShort(), row.form.reps)
        hold(root.findViewById(R.id.hold))
        tap("Done otherwise: ${plan.rows[1].text}")
        tap("right leg")
        tap("More, Strides of the run-in")
        tap(R.id.save)
        assertTrue(plan.rows[1].last!!.text, plan.rows[1].last!!.text.contains("right leg, run-in of 5 strides"))
    }

    @Test
    fun `a set is taken back by holding alone`() {
        planned()
        start()
        tap(R.id.done_as_planned)
        hold(root.findViewById(R.id.hold))
        tap("Done otherwise: ${plan.rows[0].text}")
        val bar = root.findViewById<View>(R.id.hold)
        bar.parent.requestChildFocus(bar, bar)
        bar.requestRectangleOnScreen(android.graphics.Rect(0, 0, bar.width, bar.height), true)
        ShadowLooper.idleMainLooper()
        touch(bar, 300)
        assertEquals("a tap takes nothing back", 1.toUShort(), plan.rows[0].done)
        hold(bar)
        assertEquals(0.toUShort(), plan.rows[0].done)
        assertNull(plan.rows[0].last)
        assertTrue(core { it.today(phone.device.env()) }.sessions.isEmpty())
        assertNull("no rest after nothing", asked.ms)
    }

    @Test
    fun `what is to be seen first is not offered, and what was done all the same can be written down`() {
        planned()
        core { it.checkIn(phone.device.env(), "", CheckInForm("", emptyList(), null, listOf("limp"))) }
        start()
        look("not-offered")
        assertEquals(0, root.all().filterIsInstance<Button>().count { it.contentDescription?.startsWith("Done as planned") == true })
        assertTrue("said once, not with every row", plan.against.any { it.refuses } && plan.rows.none { row -> row.against.any { it.refuses } })
        tap("Done otherwise: ${plan.rows[0].text}")
        tap(R.id.save)
        assertEquals(1.toUShort(), plan.rows[0].done)
    }

    @Test
    fun `when all of it is done the first screen is as it was before`() {
        planned()
        start()
        for (row in plan.rows) repeat(row.sets.toInt()) {
            tap(R.id.done_as_planned)
            root.findViewById<View>(R.id.hold)?.takeIf { plan.rows.any { it.next } }?.let(::hold)
        }
        assertEquals("7 of 7 sets done", plan.progress)
        assertNull(core { it.today(phone.device.env()) }.between)
        assertTrue(root.button("Log a set").isShown && root.button("Today").isShown)
        look("all-done")
    }
}
