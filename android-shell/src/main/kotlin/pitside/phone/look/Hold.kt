package pitside.phone.look

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.os.SystemClock
import android.view.MotionEvent
import android.view.View
import android.view.accessibility.AccessibilityNodeInfo
import android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction
import android.widget.Button

/**
 * A bar that does what it says after it was held for [HOLD_MS]: rain taps, and does not hold. A
 * screen reader, which cannot hold, has an action instead, that says [spoken].
 */
@SuppressLint("ViewConstructor")
class Hold(context: Context, private val look: Look, private val spoken: String, private val onHeld: () -> Unit) : Button(context) {
    private val fill = Paint().apply { color = look.colours.ink and 0x00FFFFFF or 0x40000000 }
    private var since: Long? = null
    private var finger = 0
    private val held = Runnable {
        release()
        onHeld()
    }

    /**
     * No click comes of a touch. Only the finger that began counts: drops beside it neither help
     * nor disturb.
     */
    @SuppressLint("ClickableViewAccessibility")
    override fun onTouchEvent(event: MotionEvent): Boolean {
        when (event.actionMasked) {
            MotionEvent.ACTION_DOWN -> {
                finger = event.getPointerId(0)
                since = SystemClock.uptimeMillis()
                postDelayed(held, HOLD_MS)
                // A list that scrolls does not take the finger away while it holds.
                parent?.requestDisallowInterceptTouchEvent(true)
                invalidate()
            }
            MotionEvent.ACTION_MOVE -> {
                val at = event.findPointerIndex(finger)
                if (at < 0 || event.getX(at) !in 0f..width.toFloat() || event.getY(at) !in 0f..height.toFloat()) release()
            }
            MotionEvent.ACTION_POINTER_UP -> if (event.getPointerId(event.actionIndex) == finger) release()
            MotionEvent.ACTION_UP, MotionEvent.ACTION_CANCEL -> release()
        }
        return true
    }

    /** What a reader, a switch or a key does. */
    override fun performClick(): Boolean {
        super.performClick()
        release()
        onHeld()
        return true
    }

    override fun onInitializeAccessibilityNodeInfo(info: AccessibilityNodeInfo) {
        super.onInitializeAccessibilityNodeInfo(info)
        info.contentDescription = spoken
        info.addAction(AccessibilityAction(AccessibilityNodeInfo.ACTION_CLICK, spoken))
    }

    override fun onDraw(canvas: Canvas) {
        since?.let { begun ->
            val part = ((SystemClock.uptimeMillis() - begun).toFloat() / HOLD_MS).coerceIn(0f, 1f)
            val wide = width * part
            val from = if (layoutDirection == LAYOUT_DIRECTION_RTL) width - wide else 0f
            canvas.drawRect(from, 0f, from + wide, height.toFloat(), fill)
            if (part < 1f) postInvalidateOnAnimation()
        }
        super.onDraw(canvas)
    }

    override fun onDetachedFromWindow() {
        release()
        super.onDetachedFromWindow()
    }

    private fun release() {
        removeCallbacks(held)
        since = null
        invalidate()
    }

    companion object {
        /** Longer than any tap, and not yet a burden. */
        const val HOLD_MS = 800L
    }
}

/** Makes a view answer to being held, also for whoever works by a reader, who hears `spoken`. */
fun View.holds(spoken: String, onHold: () -> Unit) {
    setOnLongClickListener {
        onHold()
        true
    }
    accessibilityDelegate = object : View.AccessibilityDelegate() {
        override fun onInitializeAccessibilityNodeInfo(host: View, info: AccessibilityNodeInfo) {
            super.onInitializeAccessibilityNodeInfo(host, info)
            info.addAction(AccessibilityNodeInfo.AccessibilityAction(AccessibilityNodeInfo.ACTION_LONG_CLICK, spoken))
        }
    }
}
