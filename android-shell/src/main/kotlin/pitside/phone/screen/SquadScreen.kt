package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.look.heads
import pitside.phone.look.leading
import uniffi.pitside_screen.AthleteRow
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.Squad

/** The squad on a coach's phone: who needs a look, then everybody. */
class SquadScreen(frame: Frame, context: Context, kept: Bundle?) : TrainingScreen<Squad>(frame, context, kept) {
    override fun fetch(core: PitsideInterface): Squad = core.squad(frame.phone.device.env())

    override fun draw(record: Squad): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(record.title))
        body.add(parts.softText(record.week), look)
        if (record.demoNote.isNotEmpty()) body.add(parts.softText(record.demoNote), look, Look.Space.SMALL)
        if (record.empty.isNotEmpty()) body.add(parts.text(record.empty), look)
        if (record.notices.isNotEmpty()) heading(body, headings.lookAt)
        for (notice in record.notices) notice(body, notice, named = true)
        for (clash in record.clashes) clash(body, record, clash)
        if (record.athletes.isNotEmpty()) heading(body, headings.athletes)
        for (athlete in record.athletes) athlete(body, athlete)
        for (note in record.notes) body.add(parts.softText(note), look, Look.Space.MIDDLE)
        return page.view
    }

    private fun athlete(body: LinearLayout, athlete: AthleteRow) {
        val now = athlete.rows.mapNotNull { row -> row.weeks.lastOrNull()?.let { "${row.label} ${it.text}" } }.joinToString(" · ")
        val lines = listOf(parts.heading(athlete.name), parts.softText(athlete.about)) +
            listOfNotNull(athlete.lastSession?.text).map(parts::text) +
            parts.softText(now) +
            (athlete.hurts + athlete.limits + listOf(athlete.clashes)).map(parts::text) +
            listOf(parts.softText(athlete.privateNote))
        lines.forEach { it.heads(false) }
        val row = parts.row(lines, athlete.spoken)
        body.add(if (frame.draws(athlete.route)) parts.leading(row) { frame.open(athlete.route) } else row, look, Look.Space.SMALL)
    }
}
