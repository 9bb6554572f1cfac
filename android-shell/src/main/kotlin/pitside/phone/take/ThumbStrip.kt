package pitside.phone.take

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Path
import android.graphics.Rect
import android.os.Build
import android.os.Bundle
import android.view.HapticFeedbackConstants
import android.view.KeyEvent
import android.view.MotionEvent
import android.view.View
import android.view.accessibility.AccessibilityEvent
import android.view.accessibility.AccessibilityNodeInfo
import android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction
import kotlin.math.abs
import pitside.phone.look.Look
import uniffi.pitside_screen.MarkWords

/**
 * Under the thumb: six millimetres are one frame, felt as a tick. Held at an end it goes on by
 * itself. There is no picture on it, so that the thumb hides none.
 */
class ThumbStrip(context: Context, private val look: Look, private val words: MarkWords, private val last: Int, private val step: (Int) -> Unit) : View(context) {
    /** The frame where the person is, and how it is told. */
    private var frame = 0

    private val frameWidth = MM_A_FRAME / MM_AN_INCH * resources.displayMetrics.xdpi
    private val end = look.dp(64)

    /** How far the thumb moved since the last frame, in pixels. */
    private var rest = 0f
    private var from = 0f
    private var moved = false

    /** Where the marks of the strip stand, in pixels: they go with the thumb. */
    private var slid = 0f
    private var held = 0

    init {
        isFocusable = true
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_YES
        minimumHeight = look.dp(HEIGHT)
        contentDescription = words.strip
    }

    fun show(frame: Int, spoken: String) {
        this.frame = frame
        contentDescription = "${words.strip}: $spoken"
        invalidate()
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        setMeasuredDimension(MeasureSpec.getSize(widthSpec), look.dp(HEIGHT))
    }

    private fun go(by: Int): Boolean {
        val to = frame + by
        if (to < 0 || to > last) return false
        performHapticFeedback(HapticFeedbackConstants.CLOCK_TICK)
        step(by)
        return true
    }

    private val again = object : Runnable {
        override fun run() {
            if (go(held)) postDelayed(this, REPEAT_MS)
        }
    }

    /** A click of a reader or of a switch is no step: it has actions of its own. */
    @SuppressLint("ClickableViewAccessibility")
    override fun onTouchEvent(event: MotionEvent): Boolean {
        when (event.actionMasked) {
            MotionEvent.ACTION_DOWN -> {
                parent.requestDisallowInterceptTouchEvent(true)
                from = event.x
                rest = 0f
                moved = false
                held = if (event.x < end) -1 else if (event.x > width - end) 1 else 0
                if (held != 0) {
                    go(held)
                    postDelayed(again, HOLD_MS)
                }
            }
            MotionEvent.ACTION_MOVE -> {
                val by = event.x - from
                if (!moved && abs(by) < look.dp(8)) return true
                if (!moved) removeCallbacks(again)
                moved = true
                from = event.x
                rest += by
                slid += by
                while (abs(rest) >= frameWidth) {
                    val direction = if (rest > 0) 1 else -1
                    rest -= direction * frameWidth
                    go(direction)
                }
                invalidate()
            }
            MotionEvent.ACTION_UP, MotionEvent.ACTION_CANCEL -> {
                removeCallbacks(again)
                held = 0
                invalidate()
            }
        }
        return true
    }

    /** Holding an end is no gesture of the system that goes back. */
    override fun onLayout(changed: Boolean, left: Int, top: Int, right: Int, bottom: Int) {
        super.onLayout(changed, left, top, right, bottom)
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.Q) systemGestureExclusionRects = listOf(Rect(0, 0, right - left, bottom - top))
    }

    override fun onDetachedFromWindow() {
        super.onDetachedFromWindow()
        removeCallbacks(again)
    }

    override fun onKeyDown(code: Int, event: KeyEvent): Boolean {
        val by = when (code) {
            KeyEvent.KEYCODE_DPAD_LEFT -> -1
            KeyEvent.KEYCODE_DPAD_RIGHT -> 1
            else -> return super.onKeyDown(code, event)
        }
        return go(by)
    }

    private val ground = Paint().apply { color = look.colours.raised }
    private val line = Paint().apply {
        color = look.colours.edge
        strokeWidth = look.dp(2).toFloat()
    }
    private val mark = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = look.colours.accent
        strokeWidth = look.dp(4).toFloat()
    }
    private val arrow = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = look.colours.ink
        style = Paint.Style.STROKE
        strokeCap = Paint.Cap.ROUND
        strokeWidth = look.dp(4).toFloat()
    }
    private val path = Path()

    override fun onDraw(canvas: Canvas) {
        canvas.drawRect(0f, 0f, width.toFloat(), height.toFloat(), ground)
        val (middle, high) = width / 2f to height.toFloat()
        canvas.drawLine(0f, line.strokeWidth / 2, width.toFloat(), line.strokeWidth / 2, line)
        var x = middle + slid % frameWidth
        while (x > end) x -= frameWidth
        while (x < width - end) {
            if (x > end) canvas.drawLine(x, high * 0.34f, x, high * 0.66f, line)
            x += frameWidth
        }
        canvas.drawLine(middle, high * 0.2f, middle, high * 0.8f, mark)
        for (side in listOf(-1, 1)) {
            val tip = if (side < 0) end * 0.36f else width - end * 0.36f
            val back = tip - side * end * 0.22f
            path.reset()
            path.moveTo(back, high / 2 - end * 0.22f)
            path.lineTo(tip, high / 2)
            path.lineTo(back, high / 2 + end * 0.22f)
            arrow.alpha = if (frame + side in 0..last) 255 else 70
            canvas.drawPath(path, arrow)
        }
    }

    override fun onInitializeAccessibilityNodeInfo(info: AccessibilityNodeInfo) {
        super.onInitializeAccessibilityNodeInfo(info)
        info.className = "android.widget.SeekBar"
        @Suppress("DEPRECATION")
        val range = { least: Float, most: Float, now: Float -> AccessibilityNodeInfo.RangeInfo.obtain(AccessibilityNodeInfo.RangeInfo.RANGE_TYPE_INT, least, most, now) }
        info.rangeInfo = range(0f, last.toFloat(), frame.toFloat())
        if (frame < last) info.addAction(AccessibilityAction(AccessibilityAction.ACTION_SCROLL_FORWARD.id, words.on))
        if (frame > 0) info.addAction(AccessibilityAction(AccessibilityAction.ACTION_SCROLL_BACKWARD.id, words.back))
        // What is said instead of a share of the whole.
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) info.stateDescription = contentDescription
    }

    override fun performAccessibilityAction(action: Int, arguments: Bundle?): Boolean {
        val by = when (action) {
            AccessibilityAction.ACTION_SCROLL_FORWARD.id -> 1
            AccessibilityAction.ACTION_SCROLL_BACKWARD.id -> -1
            else -> return super.performAccessibilityAction(action, arguments)
        }
        return go(by).also { if (it) sendAccessibilityEvent(AccessibilityEvent.TYPE_VIEW_SELECTED) }
    }

    private companion object {
        const val MM_A_FRAME = 6f
        const val MM_AN_INCH = 25.4f
        const val HEIGHT = 84

        /** Before a held end repeats, and between its steps. */
        const val HOLD_MS = 400L
        const val REPEAT_MS = 90L
    }
}
