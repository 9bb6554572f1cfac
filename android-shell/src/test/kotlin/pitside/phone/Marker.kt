package pitside.phone

import android.os.SystemClock
import android.view.MotionEvent
import android.view.View
import android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction
import org.junit.Assert.assertTrue
import org.robolectric.shadows.ShadowLooper
import pitside.phone.take.Crops
import pitside.phone.take.ThumbStrip

/** A hand that marks the clip on the screen. */
class Marker(private val root: () -> View) {
    val strip get() = root().all().filterIsInstance<ThumbStrip>().single()
    val crops get() = root().all().filterIsInstance<Crops>().single()

    /** The gaps between the pictures, the left one first. */
    val gaps: List<View> get() = crops.all().filter { it.isClickable }.sortedBy { it.left }.toList()

    /** The frame in the middle. */
    val frame: Int get() = strip.createAccessibilityNodeInfo().rangeInfo.current.toInt()

    /** Steps as a reader's actions do, until a frame is in the middle. */
    fun stepTo(to: Int) {
        while (frame != to) {
            val action = if (frame < to) AccessibilityAction.ACTION_SCROLL_FORWARD else AccessibilityAction.ACTION_SCROLL_BACKWARD
            assertTrue(strip.performAccessibilityAction(action.id, null))
        }
    }

    /** A finger on a view: what it does, and where from the left edge. */
    fun finger(view: View, vararg at: Pair<Int, Float>) {
        val from = SystemClock.uptimeMillis()
        for ((action, x) in at) {
            val event = MotionEvent.obtain(from, SystemClock.uptimeMillis(), action, x, view.height / 2f, 0)
            view.dispatchTouchEvent(event)
            event.recycle()
        }
    }

    fun tapGap(gap: View) {
        finger(gap, MotionEvent.ACTION_DOWN to gap.width / 2f, MotionEvent.ACTION_UP to gap.width / 2f)
        ShadowLooper.idleMainLooper()
    }

    /** Marks events before these frames, one after the other. */
    fun mark(frames: List<Int>) = frames.forEach {
        stepTo(it)
        tapGap(gaps[0])
    }
}
