package pitside.phone.look

import android.content.Context
import android.graphics.Rect
import android.view.Gravity
import android.view.View
import android.view.ViewGroup.LayoutParams.MATCH_PARENT
import android.view.ViewGroup.LayoutParams.WRAP_CONTENT
import android.widget.Button
import android.widget.HorizontalScrollView
import android.widget.LinearLayout
import uniffi.pitside_screen.Link

/**
 * The screens that one can be at from anywhere, in reach of the thumb. Where the letters are too
 * large for all of them, they move aside.
 */
class Places(context: Context, private val parts: Parts, places: List<Link>, go: (String) -> Unit) {
    private val look = parts.look
    private val tabs = places.map { place -> place.route to tab(context, place.text) { go(place.route) } }

    val view: View = parts.column().apply {
        addView(parts.rule(), parts.ruled)
        val line = LinearLayout(context).apply { tabs.forEach { (_, tab) -> addView(tab.view, LinearLayout.LayoutParams(WRAP_CONTENT, WRAP_CONTENT, 1f)) } }
        val aside = HorizontalScrollView(context).apply {
            isFillViewport = true
            isHorizontalScrollBarEnabled = false
            addView(line, MATCH_PARENT, WRAP_CONTENT)
        }
        addView(aside, MATCH_PARENT, WRAP_CONTENT)
    }

    /** Shows which of them is open; none, and the row goes away. */
    fun at(route: String?) {
        view.visibility = if (tabs.any { it.first == route }) View.VISIBLE else View.GONE
        for ((place, tab) in tabs) {
            tab.chosen(place == route)
            // Where they move aside, the one that is open is in sight.
            if (place == route) tab.view.post { tab.view.requestRectangleOnScreen(Rect(0, 0, tab.view.width, tab.view.height), true) }
        }
    }

    private class Tab(val view: View, val chosen: (Boolean) -> Unit)

    private fun tab(context: Context, text: String, onTap: () -> Unit): Tab {
        val bar = View(context)
        val button: Button = parts.flat(text, onTap)
        val whole = parts.column().apply {
            gravity = Gravity.CENTER_HORIZONTAL
            // Of a width of its own: one that fills would make all places as wide as the row.
            addView(bar, look.dp(32), look.dp(4))
            addView(button, MATCH_PARENT, WRAP_CONTENT)
        }
        return Tab(whole) { chosen ->
            bar.setBackgroundColor(if (chosen) look.colours.accent else 0)
            button.setTextColor(if (chosen) look.colours.ink else look.colours.soft)
            button.isSelected = chosen
        }
    }
}
