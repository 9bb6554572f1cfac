package pitside.phone.screen

import android.os.Bundle
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Clash

/** Draws what two people wrote differently: all values, and one more touch before one of them is kept. */
class Clashes(private val parts: Parts, kept: Bundle?) {
    private val look = parts.look

    /** The value that was chosen and is not confirmed. */
    private var chosen = kept?.getString(CHOSEN)

    fun keep(state: Bundle) {
        chosen?.let { state.putString(CHOSEN, it) }
    }

    /** `again` draws the same anew; `settle` keeps the value of that choice. */
    fun draw(body: LinearLayout, clash: Clash, again: () -> Unit, settle: (choice: String) -> Unit) {
        body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.LARGE) })
        body.add(parts.text(clash.title), look)
        for (value in clash.values) {
            val text = "${value.text}\n${value.written}"
            val spoken = "${value.text}, ${value.written}"
            if (!clash.canSettle) {
                body.add(parts.row(listOf(parts.text(value.text), parts.softText(value.written)), spoken), look, 0)
                continue
            }
            val button = parts.choice(text, value.choice == chosen) {
                chosen = value.choice.takeIf { it != chosen }
                again()
            }
            body.add(button.apply { contentDescription = spoken }, look, Look.Space.SMALL)
        }
        body.add(parts.softText(if (clash.canSettle) clash.note else clash.settledBy), look, Look.Space.SMALL)
        val keep = clash.values.firstOrNull { it.choice == chosen } ?: return
        if (!clash.canSettle) return
        val button = parts.wide(keep.keep) {
            chosen = null
            settle(keep.choice)
        }
        body.add(button, look)
    }

    private companion object {
        const val CHOSEN = "chosen"
    }
}
