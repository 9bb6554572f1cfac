package pitside.phone

import android.graphics.Bitmap
import android.graphics.Canvas
import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.annotation.Config
import pitside.phone.look.LaneView
import pitside.phone.look.Look
import pitside.phone.look.WeekBars

/** The own weeks and times, of an athlete of the demo's squad. */
class CourseTest : EveryWay() {
    private fun course() {
        start()
        open("course")
    }

    override fun screens(way: String) {
        phone.demo("aune")
        course()
        look("$way-course")
        tap(phone.headings().allWeeks)
        tap(phone.headings().behind)
        val record = core { it.ownCourse(phone.device.env(), "") }
        tap("${record.tests[0].said}: ${record.tests[0].saw}")
        look("$way-course-open")
    }

    @Test
    fun `it is one call, and one more where the process died`() {
        phone.demo("aune")
        start()
        phone.counted.taken()
        open("course")
        assertEquals(listOf("ownCourse"), phone.counted.taken())
        tap(phone.headings().allWeeks)
        assertEquals("what unfolds was there already", emptyList<String>(), phone.counted.taken())
        val weeks = core { it.ownCourse(phone.device.env(), "") }.rows[0].weeks
        assertTrue(weeks.all { week -> week.week in root.texts() })
        kill()
        assertTrue("it is unfolded still", weeks.all { week -> week.week in root.texts() })
    }

    @Test
    fun `a take is a lane that says its times`() {
        phone.demo("aune")
        course()
        val take = core { it.ownCourse(phone.device.env(), "") }.takes.first()
        val lane = root.all().filterIsInstance<LaneView>().first()
        assertEquals(take.lane.spoken, lane.contentDescription)
        assertTrue(take.times.all { it.value in root.texts() })
        assertTrue(take.lane.legend in root.texts())
    }

    /** How many pixels of a colour stand in each half of what a view draws. */
    private fun halves(view: View, colour: Int): Pair<Int, Int> {
        val bitmap = Bitmap.createBitmap(view.width, view.height, Bitmap.Config.ARGB_8888)
        view.draw(Canvas(bitmap))
        val of = { xs: IntRange -> xs.sumOf { x -> (0 until view.height).count { y -> bitmap.getPixel(x, y) == colour } } }
        return of(0 until view.width / 2) to of(view.width / 2 until view.width)
    }

    private fun now(): Pair<Int, Int> {
        phone.demo("aune")
        course()
        val bars = root.all().filterIsInstance<WeekBars>().first()
        return halves(bars, Look(activity.get(), false).colours.accent)
    }

    @Test
    fun `this week stands last`() {
        val (left, right) = now()
        assertTrue("$left, $right", left == 0 && right > 0)
    }

    @Config(qualifiers = "ar-ldrtl-w360dp-h740dp-xhdpi")
    @Test
    fun `weeks follow the reading and the time of a clip does not`() {
        val (left, right) = now()
        assertTrue("$left, $right", left > 0 && right == 0)
        assertTrue(root.all().filterIsInstance<LaneView>().all { it.layoutDirection == View.LAYOUT_DIRECTION_LTR })
    }

    @Test
    fun `a coach's phone that serves nobody leads to the squad`() {
        phone.demo(DemoBook.COACH)
        course()
        assertTrue(root.texts().toString(), core { it.ownCourse(phone.device.env(), "") }.nobody in root.texts())
        look("course-nobody")
        tap("Squad")
        assertTrue("Harbour Lane jumps" in root.texts())
    }

    @Test
    fun `the first start has a course too`() {
        course()
        look("course-first-start")
        assertTrue("No contact was timed yet." in root.texts())
    }
}
