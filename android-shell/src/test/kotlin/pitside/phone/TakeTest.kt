package pitside.phone

import android.app.Activity
import android.content.Intent
import android.net.Uri
import android.view.HapticFeedbackConstants
import android.view.MotionEvent
import android.view.View
import android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction
import android.widget.Button
import java.io.File
import java.time.Duration
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper
import pitside.phone.take.PinBox
import uniffi.pitside_screen.Job

/** Clips are chosen, marked, put off, saved and deleted; the files are real, the pictures are drawn. */
@Config(application = TakePhone::class)
class TakeTest : EveryWay() {
    private val clips get() = (phone as TakePhone).kept
    private val hand = Marker { root }
    private val strip get() = hand.strip
    private val crops get() = hand.crops
    private val gaps get() = hand.gaps
    private val frame get() = hand.frame

    /** Has the system's picker answer with a file. */
    private fun choose(path: String) {
        open("times")
        tap("Choose a slow-motion clip", "Zeitlupen-Clip wählen")
        answer(clips.put(path))
    }

    /** Taps the first button that shows one of these words. */
    private fun tap(vararg shown: String) {
        root.all().filterIsInstance<Button>().first { it.text.toString() in shown }.performClick()
        ShadowLooper.idleMainLooper()
    }

    private fun answer(place: Uri) {
        val asked = shadowOf(activity.get()).nextStartedActivityForResult
        shadowOf(activity.get()).receiveResult(asked.intent, Activity.RESULT_OK, Intent().setData(place))
        ShadowLooper.idleMainLooper()
    }

    /** A set of bounds of today, the left leg first. */
    private fun bounds() {
        val screen = core { it.logSet(phone.device.env()) }
        val bounds = screen.exercises.first { it.id == "0ed66ffd-565c-4b4a-b387-a2a382bbd60e" }
        core { it.logToday(phone.device.env(), "", screen.form.copy(exercise = bounds.id, leg = "alternate-left", reps = 1u, sets = 1u, strides = 6u)) }
    }

    /** The bar of these words. */
    private fun bar(text: String) = root.all().filterIsInstance<Button>().first { it.text.toString() == text }

    /** Chooses the drawn clip and pins the foot. */
    private fun drawn() {
        choose(DRAWN)
        tap(R.id.save)
    }

    private fun markedSoFar() = core { book -> book.takes(phone.device.env()).later.single().let { it.text } }

    override fun screens(way: String) {
        start()
        bounds()
        choose(PASSED_ON)
        look("take-$way-1-passed-on")
        choose(DRAWN)
        look("take-$way-2-pin")
        tap(R.id.save)
        hand.stepTo(READ[0])
        look("take-$way-3-begin")
        hand.mark(READ.take(3))
        look("take-$way-4-marked")
        tap("Details", "Einzelheiten")
        look("take-$way-5-details")
        tap("Fewer details", "Weniger Einzelheiten")
        hand.stepTo(READ[3])
        hand.tapGap(gaps[0])
        tap(R.id.save)
        choose("tests/published/data/clips/sample_android_slow_motion.mp4")
        activity.get().back()
        tap("Details", "Einzelheiten")
        look("take-$way-6-list")
    }

    @Test
    fun `four contacts are eight taps, each is one call, and the view jumps near`() {
        start()
        bounds()
        drawn()
        phone.counted.taken()
        var steps = 0
        READ.forEachIndexed { number, after ->
            if (number > 0) assertTrue("mark $number: looks at $frame, it is at $after", kotlin.math.abs(frame - after) < 35)
            steps += kotlin.math.abs(frame - after)
            hand.stepTo(after)
            val kind = if (number % 2 == 0) "Touchdown" else "Toe-off"
            val foot = if (number / 2 % 2 == 0) "left" else "right"
            assertEquals("$kind, $foot: between frames ${after - 1} and $after", gaps[0].contentDescription)
            hand.tapGap(gaps[0])
        }
        assertEquals(List(8) { "mark" }, phone.counted.taken())
        assertTrue(root.texts().toString(), root.texts().any { it.startsWith("mean of 4: 0.155 s ± ") })
        println("after the first touchdown ${steps - READ[0]} steps for seven marks")
        tap(R.id.save)
        assertEquals(listOf("saveMarks", "takes"), phone.counted.taken())
        assertTrue(root.texts().toString(), root.texts().any { it.startsWith("mean of 4: 0.155 s ± ") })
    }

    /** Known from how the clip was drawn: tests/render/clips/bounds-240.json. */
    @Test
    fun `the times on the screen are those that the clip was drawn with`() {
        start()
        bounds()
        drawn()
        hand.mark(READ)
        tap("Details")
        val told = root.texts().mapNotNull { Regex("^(0\\.\\d{3}) s ± (\\d+) ms$").find(it) }.map { it.groupValues }
        val truth = listOf(0.8304 - 0.6859, 1.2815 - 1.1224, 1.7315 - 1.5946, 2.2444 - 2.0646)
        assertEquals(4, told.size)
        told.zip(truth).forEach { (said, drawn) ->
            assertTrue("$said of $drawn", kotlin.math.abs(said[1].toDouble() - drawn) <= said[2].toDouble() / 1_000)
        }
    }

    @Test
    fun `what was marked outlives the process, with and without what Android kept`() {
        start()
        bounds()
        drawn()
        hand.mark(READ.take(3))
        val there = frame
        strip.performAccessibilityAction(AccessibilityAction.ACTION_SCROLL_FORWARD.id, null)
        kill()
        assertEquals("where the person had stepped to", there + 1, frame)
        assertEquals("Toe-off, right: between frames ${there} and ${there + 1}", gaps[0].contentDescription)
        assertEquals("3 marks", markedSoFar().substringAfterLast("· "))
        // As after a dead battery: nothing but the book.
        val route = core { it.takes(phone.device.env()) }.later.single().route
        activity.destroy()
        start()
        open(route)
        assertEquals(there + 1, frame)
        assertNotNull(root.findViewById<View>(R.id.undo))
    }

    @Test
    fun `the newest mark is taken back in one corner, whichever the hand`() {
        start()
        bounds()
        drawn()
        val undo = { root.findViewById<View>(R.id.undo) }
        val save = { root.findViewById<View>(R.id.save) }
        assertEquals("nothing to take back", View.INVISIBLE, undo().visibility)
        assertTrue(undo().left > save().left)
        hand.stepTo(READ[0])
        hand.tapGap(gaps[0])
        hand.stepTo(READ[1])
        hand.tapGap(gaps[0])
        assertEquals("Undo: Toe-off, left", undo().contentDescription)
        tap(R.id.undo)
        assertEquals(READ[1], frame)
        assertEquals("1 mark", markedSoFar().substringAfterLast("· "))
        tap("Details")
        tap("left hand")
        assertTrue("mirrored for the left hand", undo().left < save().left)
        kill()
        assertTrue("and stays so", undo().left < save().left)
        look("take-left-hand")
    }

    @Test
    fun `a gap drawn over a picture says that it is in doubt`() {
        start()
        drawn()
        hand.stepTo(READ[0])
        val gap = gaps[0]
        val middle = gap.width / 2f
        val picture = crops.width / 3f
        hand.finger(gap, MotionEvent.ACTION_DOWN to middle, MotionEvent.ACTION_MOVE to middle + picture, MotionEvent.ACTION_UP to middle + picture)
        tap("Details")
        assertTrue(root.texts().toString(), "Touchdown, right: in doubt between frames 164 and 166" in root.texts())
        tap(R.id.undo)
        // A reader has it as an action of the gap.
        assertTrue(gaps[1].performAccessibilityAction(R.id.doubt_before, null))
        ShadowLooper.idleMainLooper()
        assertTrue(root.texts().toString(), root.texts().any { it.contains("in doubt between frames 165 and 167") })
        // A finger that slipped means nothing.
        val before = root.texts()
        hand.finger(gaps[1], MotionEvent.ACTION_DOWN to middle, MotionEvent.ACTION_MOVE to middle + gap.width * 0.6f, MotionEvent.ACTION_UP to middle + gap.width * 0.6f)
        assertEquals(before, root.texts())
    }

    @Test
    fun `six millimetres are a frame with a tick, and a held end goes on`() {
        start()
        drawn()
        hand.stepTo(100)
        val mm = strip.resources.displayMetrics.xdpi / 25.4f
        val middle = strip.width / 2f
        hand.finger(strip, MotionEvent.ACTION_DOWN to middle, MotionEvent.ACTION_MOVE to middle + 5 * mm)
        assertEquals(100, frame)
        hand.finger(strip, MotionEvent.ACTION_MOVE to middle + 18.5f * mm, MotionEvent.ACTION_UP to middle + 18.5f * mm)
        assertEquals(103, frame)
        assertEquals(HapticFeedbackConstants.CLOCK_TICK, shadowOf(strip).lastHapticFeedbackPerformed())
        hand.finger(strip, MotionEvent.ACTION_DOWN to strip.width - 5f)
        assertEquals("at once", 104, frame)
        ShadowLooper.idleMainLooper(900, java.util.concurrent.TimeUnit.MILLISECONDS)
        val held = frame
        assertTrue("then again and again: $held", held >= 107)
        hand.finger(strip, MotionEvent.ACTION_UP to strip.width - 5f)
        shadowOf(android.os.Looper.getMainLooper()).idleFor(Duration.ofSeconds(1))
        assertEquals("until it is let go", held, frame)
        hand.stepTo(110)
        hand.finger(strip, MotionEvent.ACTION_DOWN to 5f, MotionEvent.ACTION_UP to 5f)
        assertEquals(109, frame)
        // Twenty pictures are asked for on either side, first those in the direction of the steps.
        assertEquals(listOf(109, 108, 110, 107), clips.drawn.wanted.take(4))
        assertEquals((89..129).toSet(), clips.drawn.wanted.toSet())
        assertTrue(strip.contentDescription.toString(), strip.contentDescription.startsWith("Frames: Frame 109, 0.4542 s"))
        hand.stepTo(0)
        hand.finger(strip, MotionEvent.ACTION_DOWN to 5f, MotionEvent.ACTION_UP to 5f)
        assertEquals("there is nothing before the first", 0, frame)
        assertFalse(gaps[0].isEnabled)
    }

    @Test
    fun `pictures that are not ready come later, and without any a clip is still stepped through`() {
        start()
        clips.atOnce = false
        drawn()
        look("take-waiting")
        clips.drawn.arrive()
        look("take-arrived")
        clips.drawn.failed()
        ShadowLooper.idleMainLooper()
        assertTrue(root.texts().toString(), "This phone cannot show the pictures of this clip." in root.texts())
        hand.stepTo(4)
        hand.tapGap(gaps[0])
        assertEquals("1 mark", markedSoFar().substringAfterLast("· "))
        activity.get().back()
        assertTrue("the decoder is let go", clips.drawn.closed)
    }

    @Test
    fun `the foot is pinned once a clip, and again where a person wants it`() {
        start()
        choose(DRAWN)
        assertNotNull(root.all().filterIsInstance<PinBox>().singleOrNull())
        val box = root.all().filterIsInstance<PinBox>().single()
        hand.finger(box, MotionEvent.ACTION_DOWN to box.width * 0.25f, MotionEvent.ACTION_UP to box.width * 0.25f)
        tap("Closer")
        tap(R.id.save)
        kill()
        assertEquals("not asked again", emptyList<PinBox>(), root.all().filterIsInstance<PinBox>().toList())
        tap("Where the foot is")
        assertEquals(0.25, root.all().filterIsInstance<PinBox>().single().crop.x, 0.01)
        assertEquals(0.32, root.all().filterIsInstance<PinBox>().single().crop.width, 0.001)
    }

    @Test
    fun `only originals in slow motion are taken without a word`() {
        start()
        choose(PASSED_ON)
        assertTrue(root.texts().toString(), "This clip gives no times to rely on" in root.texts())
        assertEquals(emptyList<String>(), core { it.takes(phone.device.env()) }.later.map { it.name })
        tap("Choose another clip")
        val asked = shadowOf(activity.get()).peekNextStartedActivityForResult().intent
        assertEquals(Intent.ACTION_OPEN_DOCUMENT to "video/*", asked.action to asked.type)
        answer(clips.put(PASSED_ON))
        tap("Mark this one all the same")
        tap(R.id.save)
        assertTrue(root.texts().toString(), root.texts().any { it.contains("State the capture rate") })
        // What is no clip at all says so.
        choose("tests/published/data/clips/README.md")
        assertTrue(root.texts().toString(), root.texts().any { it.contains("original of a slow-motion clip, MP4 or MOV") })
        tap("Try again")
        assertTrue(root.texts().toString(), "Contact times" in root.texts())
    }

    @Test
    fun `a phone's own clip is marked, put off, saved, and deleted by a hold with its times kept`() {
        start()
        bounds()
        choose(OF_A_PHONE)
        tap(R.id.save)
        hand.stepTo(2)
        hand.tapGap(gaps[0])
        tap("Details")
        tap("Mark later")
        assertTrue(root.texts().toString(), "44\u00a0kB · chosen today · 1 mark" in root.texts())
        tap("sample_android_slow_motion.mp4, 44\u00a0kB, chosen today, 1 mark")
        hand.stepTo(6)
        hand.tapGap(gaps[0])
        tap(R.id.save)
        val file = File((phone as TakePhone).files, "sample_android_slow_motion.mp4")
        val delete = "Hold to delete the clip and keep the times (44\u00a0kB)"
        // A drop of rain deletes nothing.
        touch(bar(delete), 500)
        assertTrue(file.exists())
        clips.deletes = false
        hold(bar(delete))
        assertTrue(root.texts().toString(), root.texts().any { it.startsWith("The clip cannot be deleted from here") })
        clips.deletes = true
        phone.counted.taken()
        hold(bar(delete))
        assertFalse(file.exists())
        assertEquals(listOf("dropClip", "takes"), phone.counted.taken())
        val takes = core { it.takes(phone.device.env()) }
        assertEquals(0 to 1, takes.done.size to takes.takes.size)
        // Four frames of 1/240 s.
        assertTrue(takes.takes[0].line, takes.takes[0].line.startsWith("0.017 s ± "))
    }

    @Test
    fun `a clip that was moved is told, and is taken off the list by a hold`() {
        start()
        drawn()
        val route = core { it.takes(phone.device.env()) }.later.single().route
        activity.get().back()
        File((phone as TakePhone).files, "bounds-240.mp4").delete()
        checkNotNull(clips.read(clips.put(OF_A_PHONE).toString(), Job.ofClip()))
        open(route)
        assertTrue(root.texts().toString(), root.texts().any { it.startsWith("The clip is not found where it was chosen") })
        tap("Back")
        hold(bar("Hold to take it off the list, without its marks"))
        assertTrue(core { it.takes(phone.device.env()) }.later.isEmpty())
        assertEquals(1, clips.letGo.size)
    }

    private companion object {
        const val DRAWN = "tests/render/clips/bounds-240.mp4"

        /** First frames on the ground and off it, as read by eye: bounds-240.marks.json. */
        val READ = listOf(165, 200, 270, 308, 383, 416, 496, 539)

        /** Nothing says what it was captured with. */
        const val PASSED_ON = "tests/published/data/clips/iibbibb_editlist_videoonly.mp4"

        /** Filmed by a phone; seven frames. */
        const val OF_A_PHONE = "tests/published/data/clips/sample_android_slow_motion.mp4"
    }
}
