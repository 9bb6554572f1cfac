package pitside.phone.take

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Paint
import android.graphics.RectF
import android.view.KeyEvent
import android.view.MotionEvent
import android.view.View
import pitside.phone.look.Look
import uniffi.pitside_screen.Crop

/** A whole picture with the box of what will be shown large; a finger or keys move it. */
@SuppressLint("ClickableViewAccessibility")
class PinBox(context: Context, private val look: Look, crop: Crop) : View(context) {
    var crop: Crop = crop
        private set
    private var bitmap: Bitmap? = null
    private var from = 0f to 0f

    init {
        isFocusable = true
        importantForAccessibility = IMPORTANT_FOR_ACCESSIBILITY_YES
    }

    fun show(picture: Bitmap?) {
        // What was there stays until the next picture is ready.
        if (picture == null) return
        val first = bitmap == null
        bitmap = picture
        if (first) requestLayout()
        invalidate()
    }

    fun scale(by: Double) {
        crop = crop.copy(width = (crop.width * by).coerceIn(0.08, 1.0))
        invalidate()
    }

    private fun move(x: Double, y: Double) {
        crop = crop.copy(x = (crop.x + x).coerceIn(0.0, 1.0), y = (crop.y + y).coerceIn(0.0, 1.0))
        invalidate()
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val width = MeasureSpec.getSize(widthSpec)
        val most = resources.displayMetrics.heightPixels / 2
        val high = bitmap?.let { width * it.height / it.width } ?: (width * 9 / 16)
        setMeasuredDimension(width, minOf(high, most))
    }

    override fun onTouchEvent(event: MotionEvent): Boolean {
        when (event.actionMasked) {
            MotionEvent.ACTION_DOWN -> {
                parent.requestDisallowInterceptTouchEvent(true)
                from = event.x to event.y
                // The box comes to the finger where it is elsewhere.
                val place = place()
                if (!place.isEmpty && !rectangle(place).contains(event.x, event.y)) {
                    crop = crop.copy(
                        x = ((event.x - place.left) / place.width()).toDouble().coerceIn(0.0, 1.0),
                        y = ((event.y - place.top) / place.height()).toDouble().coerceIn(0.0, 1.0),
                    )
                    invalidate()
                }
            }
            MotionEvent.ACTION_MOVE -> {
                val place = place().takeIf { !it.isEmpty } ?: return true
                move(((event.x - from.first) / place.width()).toDouble(), ((event.y - from.second) / place.height()).toDouble())
                from = event.x to event.y
            }
        }
        return true
    }

    /** Where the picture is drawn. */
    private fun place(): RectF {
        val bitmap = bitmap ?: return RectF()
        val by = minOf(width.toFloat() / bitmap.width, height.toFloat() / bitmap.height)
        val (wide, high) = bitmap.width * by to bitmap.height * by
        return RectF((width - wide) / 2, (height - high) / 2, (width + wide) / 2, (height + high) / 2)
    }

    /** Where the box is drawn. */
    private fun rectangle(place: RectF): RectF {
        val bitmap = bitmap ?: return RectF()
        val box = boxOf(crop, bitmap.width, bitmap.height)
        val by = place.width() / bitmap.width
        val (left, top) = place.left + box.left.toFloat() * by to place.top + box.top.toFloat() * by
        return RectF(left, top, left + box.width.toFloat() * by, top + box.height.toFloat() * by)
    }

    override fun onKeyDown(code: Int, event: KeyEvent): Boolean {
        when (code) {
            KeyEvent.KEYCODE_DPAD_LEFT -> move(-STEP, 0.0)
            KeyEvent.KEYCODE_DPAD_RIGHT -> move(STEP, 0.0)
            KeyEvent.KEYCODE_DPAD_UP -> move(0.0, -STEP)
            KeyEvent.KEYCODE_DPAD_DOWN -> move(0.0, STEP)
            else -> return super.onKeyDown(code, event)
        }
        return true
    }

    private val paint = Paint(Paint.FILTER_BITMAP_FLAG)
    private val empty = Paint().apply { color = look.colours.raised }
    private val line = Paint().apply { style = Paint.Style.STROKE }

    override fun onDraw(canvas: Canvas) {
        canvas.drawRect(0f, 0f, width.toFloat(), height.toFloat(), empty)
        val bitmap = bitmap ?: return
        val place = place()
        canvas.drawBitmap(bitmap, null, place, paint)
        // Two lines, so that one is seen on any picture.
        val box = rectangle(place)
        for ((wide, colour) in listOf(6 to 0xFF000000.toInt(), 3 to 0xFFFFFFFF.toInt())) {
            line.strokeWidth = look.dp(wide).toFloat()
            line.color = colour
            canvas.drawRect(box, line)
        }
    }

    private companion object {
        const val STEP = 0.02
    }
}
