package pitside.phone.look

import android.content.Context
import android.graphics.Rect
import android.graphics.drawable.GradientDrawable
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
    private val tabs = places.map { place -> place.route to tab(place.text) { go(place.route) } }

    val view: View = parts.column().apply {
        addView(parts.rule(), parts.ruled)
        val line = LinearLayout(context).apply { tabs.forEach { (_, tab) -> addView(tab, LinearLayout.LayoutParams(WRAP_CONTENT, WRAP_CONTENT, 1f)) } }
        val aside = HorizontalScrollView(context).apply {
            isFillViewport = true
            isHorizontalScrollBarEnabled = false
            // Where letters are large, not all of them fit: what goes on fades.
            isHorizontalFadingEdgeEnabled = true
            setFadingEdgeLength(look.dp(40))
            addView(line, MATCH_PARENT, WRAP_CONTENT)
        }
        addView(aside, MATCH_PARENT, WRAP_CONTENT)
    }

    /** Shows which of them is open; none, and the row goes away. */
    fun at(route: String?) {
        view.visibility = if (tabs.any { it.first == route }) View.VISIBLE else View.GONE
        for ((place, tab) in tabs) {
            show(tab, place == route)
            // Where they move aside, the one that is open is in sight.
            if (place == route) tab.post { tab.requestRectangleOnScreen(Rect(0, 0, tab.width, tab.height), true) }
        }
    }

    private fun tab(text: String, onTap: () -> Unit): Button = parts.flat(text, onTap).apply {
        compoundDrawablePadding = look.dp(6)
        setPadding(look.dp(6), 0, look.dp(6), look.dp(8))
    }

    /** Told by a bar above it, by its ink, and to the reader. */
    private fun show(tab: Button, chosen: Boolean) {
        val bar = GradientDrawable().apply {
            setColor(if (chosen) look.colours.accent else 0)
            setSize(look.dp(32), look.dp(4))
        }
        tab.setCompoundDrawablesRelativeWithIntrinsicBounds(null, bar, null, null)
        tab.setTextColor(if (chosen) look.colours.ink else look.colours.soft)
        tab.isSelected = chosen
    }
}
