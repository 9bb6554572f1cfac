package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Athlete
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.SessionRow

/** One athlete, as this device may see her or him. */
class AthleteScreen(frame: Frame, context: Context, private val id: String, kept: Bundle?) : TrainingScreen<Athlete>(frame, context, kept) {
    /** Windows of sessions before the newest one. */
    private val earlier = ArrayList<SessionRow>()
    private var older: String? = null

    override fun fetch(core: PitsideInterface): Athlete = core.athlete(frame.phone.device.env(), id, "")

    override fun draw(record: Athlete): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(record.title))
        if (record.notices.isNotEmpty()) heading(body, headings.lookAt)
        for (notice in record.notices) notice(body, notice, named = false)
        lines(body, headings.limits, record.limits)
        lines(body, headings.hurts, record.hurts)
        if (record.privateNote.isNotEmpty()) body.add(parts.softText(record.privateNote), look)
        if (record.clashes.isNotEmpty()) heading(body, headings.clashes)
        for (clash in record.clashes) clash(body, record, clash)
        weeks(body, record.rows)
        details(body, record.details)
        if (record.takes.isNotEmpty()) heading(body, headings.takes)
        for (take in record.takes) take(body, take)
        sessions(body, record)
        if (record.other.isNotEmpty()) fold(body, "other", headings.other) { within -> record.other.forEach { within.add(parts.softText(it), look, Look.Space.SMALL) } }
        fold(body, "card", headings.card) { within -> pairs(within, record.card) }
        for (link in record.links.filter { frame.draws(it.route) }) body.add(parts.plain(link.text) { frame.open(link.route) }, look)
        for (caution in record.cautions) body.add(parts.caution(caution), look, Look.Space.LARGE)
        return page.view
    }

    private fun lines(body: LinearLayout, above: String, lines: List<String>) {
        if (lines.isEmpty()) return
        heading(body, above)
        lines.forEach { body.add(parts.text(it), look, Look.Space.SMALL) }
    }

    private fun sessions(body: LinearLayout, record: Athlete) {
        if (record.sessions.isEmpty()) return
        heading(body, headings.sessions)
        for (session in record.sessions.take(FIRST)) session(body, session)
        val cursor = older ?: record.older
        val rest = record.sessions.drop(FIRST) + earlier
        if (rest.isEmpty() && cursor.isEmpty()) return
        fold(body, "older", headings.older) { within ->
            for (session in rest) session(within, session)
            if (cursor.isNotEmpty()) within.add(parts.plain(headings.older) { more(record, cursor) }, look)
        }
    }

    /** The window of sessions before what is shown. */
    private fun more(record: Athlete, cursor: String) = act({ it.athlete(frame.phone.device.env(), id, cursor) }, saves = false) { window ->
        earlier += window.sessions
        older = window.older
        redraw(draw(record))
    }

    private companion object {
        /** Shown without being asked for: about three weeks. */
        const val FIRST = 8
    }
}
