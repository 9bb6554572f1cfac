package pitside.phone.take

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.Rect
import android.os.Bundle
import android.view.MotionEvent
import android.view.View
import android.view.ViewGroup
import android.view.accessibility.AccessibilityNodeInfo
import android.view.accessibility.AccessibilityNodeInfo.AccessibilityAction
import android.widget.TextView
import kotlin.math.abs
import pitside.phone.R
import pitside.phone.look.Parts
import uniffi.pitside_screen.FrameLook
import uniffi.pitside_screen.GapLook
import uniffi.pitside_screen.MarkWords

/**
 * Three pictures of the foot side by side and the gaps between them. A tap on a gap marks it; a gap
 * that is drawn over a picture takes it in as one in doubt. Time runs from left to right in every
 * language.
 */
class Crops(context: Context, private val parts: Parts, words: MarkWords, private val mark: (before: UInt, after: UInt) -> Unit) : ViewGroup(context) {
    private val look = parts.look
    private val pictures = List(3) { Picture() }
    private val captions: List<TextView> = List(3) {
        parts.softText("").apply { textAlignment = TEXT_ALIGNMENT_CENTER; importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_NO }
    }
    private val gaps = List(2) { Gap(it, words) }
    private var shown: FrameLook? = null

    /** The pictures that are being taken in as in doubt: the gap that is drawn, and how many to which side. */
    private var drawn: Pair<Int, Int>? = null

    init {
        layoutDirection = LAYOUT_DIRECTION_LTR
        clipChildren = false
        pictures.forEach(::addView)
        captions.forEach(::addView)
        gaps.forEach(::addView)
    }

    /** Shows a frame in the middle; pictures that are not ready come later. */
    fun show(frame: FrameLook, picture: (Int) -> Bitmap?) {
        shown = frame
        for ((at, crop) in frame.crops.withIndex()) {
            pictures[at].frame = crop.frame?.toInt()
            pictures[at].bitmap = crop.frame?.let { picture(it.toInt()) }
            pictures[at].contentDescription = crop.caption
            if (captions[at].text.toString() != crop.caption) captions[at].text = crop.caption
        }
        for ((at, gap) in frame.gaps.withIndex()) gaps[at].show(gap)
    }

    /** A picture that is ready now. */
    fun put(frame: Int, bitmap: Bitmap) {
        pictures.filter { it.frame == frame }.forEach { it.bitmap = bitmap }
    }

    private val between = look.dp(4)

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        val wide = (width - 2 * between) / 3
        val high = wide * CROP_HIGH / CROP_WIDE
        val exactly = { size: Int -> MeasureSpec.makeMeasureSpec(size, MeasureSpec.EXACTLY) }
        pictures.forEach { it.measure(exactly(wide), exactly(high)) }
        captions.forEach { it.measure(exactly(wide), MeasureSpec.makeMeasureSpec(0, MeasureSpec.UNSPECIFIED)) }
        gaps.forEach { it.measure(exactly(look.dp(GAP)), exactly(high)) }
        setMeasuredDimension(width, high + look.dp(4) + captions.maxOf { it.measuredHeight })
    }

    override fun onLayout(changed: Boolean, left: Int, top: Int, right: Int, bottom: Int) {
        for (at in 0 until 3) {
            val x = at * (pictures[0].measuredWidth + between)
            pictures[at].layout(x, 0, x + pictures[at].measuredWidth, pictures[at].measuredHeight)
            val below = pictures[at].measuredHeight + look.dp(4)
            captions[at].layout(x, below, x + captions[at].measuredWidth, below + captions[at].measuredHeight)
        }
        for (at in 0 until 2) {
            val seam = pictures[at].right + between / 2
            gaps[at].layout(seam - look.dp(GAP) / 2, 0, seam + look.dp(GAP) / 2, pictures[0].measuredHeight)
        }
    }

    private val hatch = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = look.colours.caution
        strokeWidth = look.dp(3).toFloat()
    }

    /** What is in doubt is struck through with slanting lines. */
    override fun dispatchDraw(canvas: Canvas) {
        super.dispatchDraw(canvas)
        val (gap, over) = drawn ?: return
        val covered = if (over > 0) gap + 1..gap + over else gap + 1 + over..gap
        for (at in covered) {
            val picture = pictures.getOrNull(at) ?: continue
            canvas.save()
            canvas.clipRect(picture.left, picture.top, picture.right, picture.bottom)
            var x = picture.left - picture.height
            while (x < picture.right) {
                canvas.drawLine(x.toFloat(), picture.bottom.toFloat(), (x + picture.height).toFloat(), picture.top.toFloat(), hatch)
                x += look.dp(14)
            }
            canvas.restore()
        }
    }

    /** One picture, or its place as long as it is not ready. */
    private inner class Picture : View(context) {
        var frame: Int? = null
        var bitmap: Bitmap? = null
            set(value) {
                field = value
                invalidate()
            }
        private val paint = Paint(Paint.FILTER_BITMAP_FLAG)
        private val edge = Paint().apply {
            style = Paint.Style.STROKE
            strokeWidth = look.dp(2).toFloat()
            color = look.colours.edge
        }
        private val empty = Paint().apply { color = look.colours.raised }
        private val whole = Rect()

        init {
            importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_YES
        }

        override fun onDraw(canvas: Canvas) {
            whole.set(0, 0, width, height)
            canvas.drawRect(whole, empty)
            bitmap?.let { canvas.drawBitmap(it, null, whole, paint) }
            if (bitmap == null) canvas.drawRect(whole, edge)
        }
    }

    /** The gap between two pictures: its handle, and where a finger finds it. */
    @SuppressLint("ClickableViewAccessibility")
    private inner class Gap(private val at: Int, private val words: MarkWords) : View(context) {
        private var gap: GapLook? = null
        private var from = 0f
        private val handle = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = look.colours.accent }
        private val ground = Paint(Paint.ANTI_ALIAS_FLAG).apply { color = look.colours.ground }

        init {
            isFocusable = true
            isClickable = true
        }

        fun show(next: GapLook) {
            gap = next
            contentDescription = next.spoken
            isEnabled = next.possible
            invalidate()
        }

        override fun performClick(): Boolean {
            super.performClick()
            done(0)
            return true
        }

        /** Marks the gap with so many pictures in doubt, to the right or to the left. */
        private fun done(over: Int) {
            val gap = gap?.takeIf { it.possible } ?: return
            val before = if (over < 0) gap.before - (-over).toUInt() else gap.before
            mark(before, if (over > 0) gap.after + over.toUInt() else gap.after)
        }

        /** How many pictures a finger that far from the gap has passed the middle of. */
        private fun over(x: Float): Int {
            val step = pictures[0].width + between
            val many = ((abs(x) + step / 2) / step).toInt()
            val room = if (x > 0) (at + 1..2).count { pictures[it].frame != null } else (0..at).count { pictures[it].frame != null }
            return minOf(many, room) * if (x > 0) 1 else -1
        }

        override fun onTouchEvent(event: MotionEvent): Boolean {
            if (!isEnabled) return false
            when (event.actionMasked) {
                MotionEvent.ACTION_DOWN -> {
                    // The page does not scroll away under the finger.
                    parent.requestDisallowInterceptTouchEvent(true)
                    from = event.x
                    isPressed = true
                }
                MotionEvent.ACTION_MOVE -> cover(over(event.x - from).takeIf { it != 0 })
                MotionEvent.ACTION_CANCEL -> {
                    isPressed = false
                    cover(null)
                }
                MotionEvent.ACTION_UP -> {
                    isPressed = false
                    cover(null)
                    val over = over(event.x - from)
                    // A finger that slipped without passing a picture's middle meant nothing.
                    if (over != 0) done(over) else if (abs(event.x - from) < look.dp(GAP) / 2) performClick()
                }
            }
            return true
        }

        private fun cover(over: Int?) {
            drawn = over?.let { at to it }
            this@Crops.invalidate()
        }

        override fun drawableStateChanged() {
            super.drawableStateChanged()
            invalidate()
        }

        override fun onDraw(canvas: Canvas) {
            if (gap?.possible != true) return
            val middle = width / 2f
            val half = look.dp(if (isPressed) 6 else 3).toFloat()
            canvas.drawRect(middle - half - look.dp(1), 0f, middle + half + look.dp(1), height.toFloat(), ground)
            canvas.drawRect(middle - half, 0f, middle + half, height.toFloat(), handle)
            // A grip where the thumb aims.
            val grip = look.dp(14).toFloat()
            canvas.drawCircle(middle, height * GRIP, grip + look.dp(2), ground)
            canvas.drawCircle(middle, height * GRIP, grip, handle)
        }

        override fun onInitializeAccessibilityNodeInfo(info: AccessibilityNodeInfo) {
            super.onInitializeAccessibilityNodeInfo(info)
            info.className = "android.widget.Button"
            if (gap?.possible != true) return
            info.addAction(AccessibilityAction(R.id.doubt_before, words.doubtBefore))
            info.addAction(AccessibilityAction(R.id.doubt_after, words.doubtAfter))
        }

        override fun performAccessibilityAction(action: Int, arguments: Bundle?): Boolean {
            val possible = { picture: Int -> isEnabled && pictures[picture].frame != null }
            when (action) {
                R.id.doubt_before -> if (possible(at)) done(-1)
                R.id.doubt_after -> if (possible(at + 1)) done(1)
                else -> return super.performAccessibilityAction(action, arguments)
            }
            return true
        }
    }

    private companion object {
        /** The width in which a finger finds a gap, in dp. */
        const val GAP = 56

        /** Where the grip is, as a part of the height. */
        const val GRIP = 0.86f
    }
}
