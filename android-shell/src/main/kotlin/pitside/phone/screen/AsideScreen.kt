package pitside.phone.screen

import android.content.Context
import android.view.View
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Apart
import uniffi.pitside_screen.LateRow

/** What is kept and not counted, with its reason; what came late from a removed device is taken in by a bar that is held. */
class AsideScreen(frame: Frame, context: Context) : Screen(frame, context) {
    private val headings = frame.phone.headings()
    private val env get() = frame.phone.device.env()

    override fun load() = ask({ it.aside(env) }) { redraw(draw(it)) }

    private fun draw(screen: Apart): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(screen.title))
        body.add(parts.text(screen.note), look)
        for (late in screen.late) late(body, late)
        body.add(parts.heading(headings.notCounted), look, Look.Space.LARGE)
        if (screen.noEntries.isNotEmpty()) body.add(parts.text(screen.noEntries), look, Look.Space.SMALL)
        for (entry in screen.entries) {
            val lines = listOf(parts.text(entry.what), parts.softText(entry.written), parts.text(entry.reason), parts.softText(entry.mayDo))
            record(body, parts.row(lines, entry.spoken))
        }
        if (screen.more.isNotEmpty()) body.add(parts.softText(screen.more), look, Look.Space.SMALL)
        body.add(parts.heading(headings.refused), look, Look.Space.LARGE)
        if (screen.noRefused.isNotEmpty()) body.add(parts.text(screen.noRefused), look, Look.Space.SMALL)
        for (refused in screen.refused) {
            val lines = listOf(parts.text(refused.reason), parts.softText(refused.from), parts.softText(refused.`when`))
            record(body, parts.row(lines, refused.spoken))
        }
        return page.view
    }

    private fun record(body: LinearLayout, row: View) {
        body.add(row, look, 0)
        body.addView(parts.rule(), parts.ruled)
    }

    private fun late(body: LinearLayout, late: LateRow) {
        body.add(parts.caution(late.text), look, Look.Space.LARGE)
        val bar = parts.hold(late.takeIn.text, "${late.takeIn.text}: ${late.text}") {
            act({
                it.takeIn(env, late.id)
                it.aside(env)
            }) { redraw(draw(it)) }
        }
        body.add(bar.apply { id = R.id.hold }, look, Look.Space.SMALL)
        body.add(parts.softText(headings.hold), look, 4)
    }
}
