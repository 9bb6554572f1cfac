package pitside.phone.screen

import android.content.Context
import android.view.View
import android.widget.LinearLayout
import android.widget.TextView
import java.util.Locale
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Labels

/**
 * The time that is left of a rest, and a bar of it. It counts from the end that the core gave, so
 * nothing runs on where nobody looks.
 */
class RestClock(context: Context, parts: Parts, labels: Labels, private val since: Long, private val until: Long, private val now: () -> Long) {
    private val look = parts.look
    private val over = labels.restOver
    private val figure: TextView = parts.clock("").apply { id = R.id.rest }
    private val gone = View(context).apply { setBackgroundColor(look.colours.edge) }
    private val ahead = View(context).apply { setBackgroundColor(look.colours.accent) }
    private val label = parts.label(labels.rest)
    private val tick = Runnable(::tell)

    val view: View = parts.column().apply {
        addView(label)
        addView(figure)
        val bar = LinearLayout(context).apply {
            importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
            addView(ahead, share(1f))
            addView(gone, share(0f))
        }
        add(bar, look, Look.Space.SMALL)
    }

    init {
        tell()
        figure.addOnAttachStateChangeListener(object : View.OnAttachStateChangeListener {
            override fun onViewAttachedToWindow(view: View) = tell()
            override fun onViewDetachedFromWindow(view: View) {
                figure.removeCallbacks(tick)
            }
        })
    }

    private fun share(part: Float) = LinearLayout.LayoutParams(0, look.dp(10), part)

    private fun tell() {
        figure.removeCallbacks(tick)
        val ms = until - now()
        // A rest of some minutes is looked at; through a longer one the screen may sleep.
        figure.keepScreenOn = ms in 1..LOOKED_AT_MS
        if (ms <= 0) {
            figure.accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
            figure.textSize = Look.Type.LARGE
            figure.text = over
            label.visibility = View.GONE
        } else {
            val seconds = (ms + 999) / 1_000
            // In the figures that the core writes.
            figure.text = String.format(Locale.ROOT, "%d:%02d", seconds / 60, seconds % 60)
            // Whoever lets the screen be read asks for it; it does not speak every second.
            if (figure.isAttachedToWindow) figure.postDelayed(tick, (ms - 1) % 1_000 + 1)
        }
        val part = (ms.toFloat() / (until - since)).coerceIn(0f, 1f)
        ahead.layoutParams = share(part)
        gone.layoutParams = share(1 - part)
    }

    private companion object {
        const val LOOKED_AT_MS = 5 * 60_000L
    }
}
