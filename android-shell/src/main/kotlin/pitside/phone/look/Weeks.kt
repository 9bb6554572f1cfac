package pitside.phone.look

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Canvas
import android.graphics.Paint
import android.util.TypedValue
import android.view.View
import kotlin.math.roundToInt
import uniffi.pitside_screen.WeekRow

/**
 * A row of weeks as bars over a ground line, each with its figure: the oldest first, this week
 * last and in the colour of what is now. A bar is only outlined where days of its week are
 * unknown, since the figure may be too low.
 *
 * Weeks follow the reading: from the right where the language is written so, like any row of
 * figures in a text.
 */
@SuppressLint("ViewConstructor")
class WeekBars(context: Context, private val look: Look, private val row: WeekRow) : View(context) {
    private val colours = look.colours
    private val figures = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = colours.ink
        textSize = TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_SP, 13f, resources.displayMetrics)
        fontFeatureSettings = "tnum"
    }
    private val paint = Paint(Paint.ANTI_ALIAS_FLAG)
    private val letters = figures.fontSpacing

    init {
        contentDescription = row.spoken
        isFocusable = true
    }

    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        setMeasuredDimension(MeasureSpec.getSize(widthSpec), (letters + look.dp(FULL + 8)).roundToInt())
    }

    override fun onDraw(canvas: Canvas) {
        val slot = width.toFloat() / row.weeks.size.coerceAtLeast(1)
        val ground = height - look.dp(2).toFloat()
        val gap = look.dp(4).toFloat()
        // All of them or none, so that none looks like a week without.
        val said = row.weeks.all { figures.measureText(it.text) <= slot - 2 }
        for ((at, week) in row.weeks.withIndex()) {
            val place = if (layoutDirection == LAYOUT_DIRECTION_RTL) row.weeks.lastIndex - at else at
            val (from, to) = place * slot + gap to (place + 1) * slot - gap
            val tall = if (week.share > 0) (week.share.coerceIn(0.0, 1.0) * look.dp(FULL)).toFloat().coerceAtLeast(look.dp(2).toFloat()) else 0f
            paint.color = if (at == row.weeks.lastIndex) colours.accent else colours.soft
            if (tall > 0) {
                paint.style = if (week.incomplete) Paint.Style.STROKE else Paint.Style.FILL
                paint.strokeWidth = look.dp(2).toFloat()
                val inset = if (week.incomplete) look.dp(1).toFloat() else 0f
                canvas.drawRect(from + inset, ground - tall + inset, to - inset, ground - inset, paint)
            }
            if (said) canvas.drawText(week.text, (from + to) / 2 - figures.measureText(week.text) / 2, ground - tall - look.dp(4), figures)
        }
        paint.style = Paint.Style.FILL
        paint.color = colours.edge
        canvas.drawRect(0f, ground, width.toFloat(), ground + look.edge, paint)
    }

    private companion object {
        /** The height of the largest, in dp. */
        const val FULL = 48
    }
}

fun Parts.weekBars(row: WeekRow): View = WeekBars(column().context, look, row)
