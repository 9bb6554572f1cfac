package pitside.phone.look

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.Canvas
import android.graphics.LinearGradient
import android.graphics.Paint
import android.graphics.Shader
import android.util.TypedValue
import android.view.View
import android.widget.HorizontalScrollView
import kotlin.math.roundToInt
import uniffi.pitside_screen.Bar
import uniffi.pitside_screen.Lane

/**
 * The picture of the house: a line a foot, contacts as bars, flights as gaps, uncertainty as a
 * fading edge, a target as a thin upright line.
 *
 * Time runs from left to right in every language, as it does in the clip itself and on the
 * clock of whoever filmed it: a mirrored lane would show the feet in the other order.
 */
@SuppressLint("ViewConstructor")
class LaneView(context: Context, private val look: Look, private val lane: Lane) : View(context) {
    private val colours = look.colours
    private val names = text(13f, colours.soft)
    private val figures = text(13f, colours.ink)
    private val bar = Paint(Paint.ANTI_ALIAS_FLAG)
    private val line = Paint().apply { color = colours.edge; strokeWidth = look.edge.toFloat() }
    private val aim = Paint().apply { color = colours.ink; strokeWidth = look.dp(if (look.high) 3 else 2).toFloat() }

    private val letters = figures.fontSpacing
    private val row = letters + look.dp(36)
    private val left = lane.feet.maxOfOrNull { names.measureText(it.label) }?.plus(look.dp(10)) ?: 0f
    private val right = (lane.ticks.lastOrNull()?.let { names.measureText(it.text) } ?: 0f) / 2 + look.dp(2)

    init {
        contentDescription = lane.spoken
        isFocusable = true
        layoutDirection = LAYOUT_DIRECTION_LTR
    }

    private fun text(sp: Float, colour: Int) = Paint(Paint.ANTI_ALIAS_FLAG).apply {
        color = colour
        textSize = TypedValue.applyDimension(TypedValue.COMPLEX_UNIT_SP, sp, resources.displayMetrics)
        fontFeatureSettings = "tnum"
    }

    /** As wide as there is room, and wider where contacts would stand too close to tell apart. */
    override fun onMeasure(widthSpec: Int, heightSpec: Int) {
        val least = left + right + (lane.seconds * look.dp(SECOND)).toFloat()
        val height = row * lane.feet.size + letters * 2 + look.dp(28)
        setMeasuredDimension(maxOf(MeasureSpec.getSize(widthSpec), least.roundToInt()), height.roundToInt())
    }

    private fun x(seconds: Double) = left + (seconds / lane.seconds * (width - left - right)).toFloat()

    override fun onDraw(canvas: Canvas) {
        for ((at, foot) in lane.feet.withIndex()) {
            val base = row * at + letters + look.dp(18)
            canvas.drawText(foot.label, 0f, base + letters / 3, names)
            canvas.drawLine(left, base, width - right, base, line)
            var free = 0f
            for (contact in foot.bars) {
                draw(canvas, contact, base)
                val wide = figures.measureText(contact.label)
                val middle = x((contact.start + contact.end) / 2)
                val from = (middle - wide / 2).coerceAtMost(width - wide).coerceAtLeast(free)
                // A label keeps above its bar; where two would overlap the list below has them.
                if (from > middle || from + wide > width) continue
                canvas.drawText(contact.label, from, base - look.dp(15), figures)
                free = from + wide + look.dp(4)
            }
        }
        val air = row * lane.feet.size + look.dp(6)
        for (flight in lane.flights) {
            canvas.drawLine(x(flight.start), air, x(flight.end), air, line)
            centred(canvas, flight.label, x((flight.start + flight.end) / 2), air + letters, x(flight.end) - x(flight.start))
        }
        val ground = height - letters - look.dp(10)
        for (tick in lane.ticks) {
            canvas.drawLine(x(tick.at), ground, x(tick.at), ground + look.dp(5), line)
        }
        ticks(canvas, ground + look.dp(4) + letters)
    }

    /** As many of the times as stand apart. */
    private fun ticks(canvas: Canvas, y: Float) {
        val widest = lane.ticks.maxOfOrNull { names.measureText(it.text) } ?: return
        val apart = if (lane.ticks.size > 1) x(lane.ticks[1].at) - x(lane.ticks[0].at) else widest
        val every = (((widest + look.dp(8)) / apart).toInt() + 1).coerceAtLeast(1)
        for (tick in lane.ticks.filterIndexed { at, _ -> at % every == 0 }) centred(canvas, tick.text, x(tick.at), y, Float.MAX_VALUE)
    }

    private fun centred(canvas: Canvas, text: String, x: Float, y: Float, room: Float) {
        val wide = names.measureText(text)
        if (wide <= room) canvas.drawText(text, x - wide / 2, y, names)
    }

    /** An event stands halfway down its edge, which fades over the uncertainty on either side. */
    private fun draw(canvas: Canvas, contact: Bar, base: Float) {
        val (from, to) = x((contact.start - contact.fade).coerceAtLeast(0.0)) to x(contact.end + contact.fade)
        val fade = x(2 * contact.fade) - x(0.0)
        val edge = if (to > from) (fade / (to - from)).coerceIn(0f, 0.5f) else 0f
        val (full, none) = colours.accent to (colours.accent and 0x00FFFFFF)
        bar.shader = LinearGradient(from, 0f, to, 0f, intArrayOf(none, full, full, none), floatArrayOf(0f, edge, 1 - edge, 1f), Shader.TileMode.CLAMP)
        canvas.drawRect(from, base - look.dp(9), to, base + look.dp(9), bar)
        contact.target?.let { canvas.drawLine(x(it), base - look.dp(14), x(it), base + look.dp(14), aim) }
    }

    private companion object {
        /** The least length of a second, in dp. */
        const val SECOND = 150
    }
}

/** A lane that moves aside where it is long, with how it is read; nothing where nothing is timed. */
fun Parts.lane(lane: Lane): View = column().apply {
    if (lane.feet.isEmpty() || lane.seconds <= 0) return@apply
    val aside = HorizontalScrollView(context).apply {
        isFillViewport = true
        layoutDirection = View.LAYOUT_DIRECTION_LTR
        addView(LaneView(context, look, lane))
    }
    addView(aside, below(0))
    addView(softText(lane.legend), below(4))
}
