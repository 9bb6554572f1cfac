package pitside.phone.screen

import android.content.Context
import android.view.View
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Today

/** The first screen: what was done today and what can be done. */
class TodayScreen(frame: Frame, context: Context) : Screen(frame, context) {
    override fun load() = ask({ it.today(frame.phone.device.env()) }) {
        frame.phone.reminders.set(it.reminder)
        show(draw(it))
    }

    private fun draw(today: Today): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(today.title))
        for (notice in today.notices) {
            body.add(parts.caution(notice.text), look)
            if (frame.draws(notice.route)) body.add(parts.plain(notice.text) { frame.open(notice.route) }, look, Look.Space.SMALL)
        }
        for (limit in today.limits) body.add(parts.caution(limit), look)
        if (today.sessions.isNotEmpty()) body.add(parts.column(), look, Look.Space.SMALL)
        for (session in today.sessions) {
            val lines = listOf(parts.text(session.text), parts.softText(session.figures), parts.softText(session.kept))
            val row = parts.row(lines, session.spoken)
            if (frame.draws(session.route)) row.setOnClickListener { frame.open(session.route) }
            body.add(row, look, 0)
            body.addView(parts.rule(), parts.ruled)
        }
        body.add(parts.softText(today.carried), look)
        for (caution in today.cautions) body.add(parts.caution(caution), look)
        val actions = today.actions.filter { frame.draws(it.route) }
        for ((at, action) in actions.withIndex()) {
            val open = { frame.open(action.route) }
            page.foot.add(if (at == 0) parts.wide(action.text, open) else parts.plain(action.text, open), look, Look.Space.SMALL)
        }
        closeFoot(page)
        return page.view
    }
}
