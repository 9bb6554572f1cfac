package pitside.phone

import android.app.Activity
import android.content.Intent
import org.junit.Assert.assertEquals
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper

/** A day on in minutes. */
private const val DAY = 24 * 60

/**
 * A week of an invented athlete whose phone has no signal: nothing is paired, nothing is sent, and
 * the process is killed every evening. At the end everything that was tapped is there.
 */
@Config(application = TakePhone::class)
class WeekTest : ScreenTest() {
    private val marker = Marker { root }

    private fun day(n: Int, minutes: Int = 0) {
        phone.minutes = n * DAY + minutes
        start()
    }

    /**
     * The battery dies: Android keeps nothing, and what is not in the book is gone. (That the book
     * keeps it through a kill of the process itself is BorderTest's.)
     */
    private fun evening() {
        activity.destroy()
        phone.forget()
    }

    private fun sets(session: String) = core { it.sessionLog(phone.device.env(), session) }.sets

    @Test
    fun `a week in flight mode is all there at its end`() {
        // Wednesday: three sets from nothing, the second and third as the first.
        day(0)
        val wednesday = mutableListOf<String>()
        repeat(3) { set ->
            phone.minutes = set * 4
            tap("Log a set")
            if (set == 0) repeat(2) { tap("Less, Repetitions") }
            tap(R.id.save)
        }
        val first = core { it.today(phone.device.env()) }.sessions.single().id
        wednesday += sets(first).map { it.text }
        assertEquals(3, wednesday.size)
        phone.minutes = 45
        start()
        tap("How hard was it?")
        tap("6")
        tap("More, Minutes, with the warm-up")
        tap(R.id.save)
        // And a set begun, left half filled in when the battery died.
        tap("Log a set")
        tap("More, Repetitions")
        evening()

        // Thursday: the shin hurts a little; half a set from yesterday is still there.
        day(1)
        assertEquals("Go on with the set that is filled in", core { it.today(phone.device.env()) }.actions[0].text)
        tap("Say how you are")
        tap(phone.words().yes)
        val place = core { it.checkInForm(phone.device.env(), "") }.parts[3].text
        tap(place)
        repeat(2) { tap("More, How much, $place") }
        tap(R.id.save)
        evening()

        // Friday: Wednesday's session once more, cut short for the rain.
        day(2)
        open("log-set")
        tap(core { it.logSet(phone.device.env()) }.again!!.spoken)
        val second = core { it.today(phone.device.env()) }.sessions.single().id
        assertEquals(wednesday, sets(second).map { it.text })
        tap("${core { it.sessionLog(phone.device.env(), second) }.cutLabel} weather")
        evening()

        // Saturday: bounds with a run-in, filmed; half of the contacts are marked when the battery dies.
        day(3)
        val form = core { it.logSet(phone.device.env()) }
        val bounds = form.exercises.first { it.text == "Bounds with a run-in" }
        core { it.logToday(phone.device.env(), "", form.form.copy(exercise = bounds.id, leg = "alternate-left", reps = 1u, sets = 1u, strides = 6u)) }
        open("times")
        tap("Choose a slow-motion clip")
        val asked = shadowOf(activity.get()).nextStartedActivityForResult
        val clip = (phone as TakePhone).kept.put(CLIP)
        shadowOf(activity.get()).receiveResult(asked.intent, Activity.RESULT_OK, Intent().setData(clip))
        ShadowLooper.idleMainLooper()
        tap(R.id.save)
        marker.mark(READ.take(4))
        evening()

        // Sunday: the rest of them, from the list of clips to be marked.
        day(4)
        open("times")
        tap(core { it.takes(phone.device.env()) }.later.single().spoken)
        marker.mark(READ.drop(4))
        tap(R.id.save)
        evening()

        // Monday, and nothing of it is missing.
        day(5)
        assertEquals(wednesday, sets(first).map { it.text })
        assertEquals(wednesday, sets(second).map { it.text })
        val effort = core { it.effort(phone.device.env(), first) }
        assertEquals("60", effort.scale.first { it.chosen }.id)
        assertEquals("weather", core { it.sessionLog(phone.device.env(), second) }.cut.single { it.chosen }.text)
        val takes = core { it.takes(phone.device.env()) }
        assertTrue(takes.takes.single().line, takes.takes.single().line.startsWith("mean of 4: 0.155 s ± "))
        assertTrue(takes.later.isEmpty())
        val pain = core { it.checkInForm(phone.device.env().copy(nowMs = phone.device.env().nowMs - 4 * 86_400_000L), "") }.form.hurts.single()
        assertEquals(2, pain.score.toInt())
        val carried = core { it.today(phone.device.env()) }.carried
        assertTrue(carried, carried.startsWith("7 sets only on this device, the oldest from Wed"))
        open("course")
        look("course-after-a-week")
    }

    private companion object {
        const val CLIP = "tests/render/clips/bounds-240.mp4"

        /** First frames on the ground and off it, as read by eye: bounds-240.marks.json. */
        val READ = listOf(165, 200, 270, 308, 383, 416, 496, 539)
    }
}
