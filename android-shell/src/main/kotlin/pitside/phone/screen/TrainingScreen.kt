package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.look.lane
import pitside.phone.look.leading
import pitside.phone.look.weekBars
import uniffi.pitside_screen.Clash
import uniffi.pitside_screen.Detail
import uniffi.pitside_screen.Notice
import uniffi.pitside_screen.SessionRow
import uniffi.pitside_screen.TakeRow
import uniffi.pitside_screen.WeekRow

/** What is drawn of somebody's training, on the own course and on a coach's phone. */
abstract class TrainingScreen<R : Any>(frame: Frame, context: Context, kept: Bundle?) : Folding<R>(frame, context, kept) {
    private val clashes = Clashes(parts, kept)

    override fun keep(state: Bundle) {
        super.keep(state)
        clashes.keep(state)
    }

    /** What two people wrote differently, to be settled here. */
    protected fun clash(body: LinearLayout, record: R, clash: Clash) = clashes.draw(body, clash, { refresh(record) }) { choice ->
        act({
            it.settle(frame.phone.device.env(), clash.member, choice)
            fetch(it)
        }) { drawn(it) }
    }

    /** A chart a kind, then all of them in words. */
    protected fun weeks(body: LinearLayout, rows: List<WeekRow>) {
        val first = rows.firstOrNull() ?: return
        heading(body, headings.weeks)
        for (row in rows) {
            val now = row.weeks.lastOrNull()
            body.add(parts.text(row.label), look)
            body.add(parts.weekBars(row), look, 4)
            val said = listOfNotNull(now?.spoken, row.hardest.takeIf { it.isNotEmpty() }?.let { "${headings.hardest}: $it" })
            said.forEach { body.add(parts.softText(it).apply { importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO }, look, 4) }
        }
        fold(body, "weeks", headings.allWeeks) { within ->
            for ((at, week) in first.weeks.withIndex().reversed()) {
                val lines = rows.mapNotNull { row -> row.weeks.getOrNull(at)?.let { "${row.label}: ${it.text}${if (it.more.isEmpty()) "" else ", ${it.more}"}" } }
                val spoken = rows.mapNotNull { row -> row.weeks.getOrNull(at)?.let { "${row.label}, ${it.spoken}" } }
                within.add(parts.row(listOf(parts.label(week.week)) + lines.map(parts::softText), spoken.joinToString(". ")), look, 0)
            }
        }
    }

    protected fun details(body: LinearLayout, details: List<Detail>) {
        if (details.isEmpty()) return
        fold(body, "behind", headings.behind) { within ->
            for (detail in details) {
                within.add(parts.row(listOf(parts.label(detail.label), parts.text(detail.value), parts.softText(detail.note)), detail.spoken), look, 0)
            }
        }
    }

    /** A take with its lane; its times one by one are in its words. */
    protected fun take(body: LinearLayout, take: TakeRow) {
        body.add(parts.text(take.title), look)
        body.add(parts.lane(take.lane), look, Look.Space.SMALL)
        for (time in take.times) body.add(parts.row(listOf(parts.label(time.label), parts.text(time.value)), time.spoken), look, 0)
        for (said in take.said) body.add(parts.softText(said), look, 4)
        body.add(parts.softText(take.note), look, 4)
    }

    protected fun session(body: LinearLayout, session: SessionRow) {
        val lines = listOf(parts.label(session.day), parts.text(session.text), parts.softText(session.figures), parts.softText(session.kept))
        val row = parts.row(lines, session.spoken)
        if (frame.draws(session.route)) {
            body.add(parts.leading(row) { frame.open(session.route) }, look, Look.Space.SMALL)
        } else {
            body.add(row, look, 0)
            body.addView(parts.rule(), parts.ruled)
        }
    }

    /** What was seen first; by which rule, from where and what to do is one touch below. */
    protected fun notice(body: LinearLayout, notice: Notice, named: Boolean) {
        val id = "notice/${notice.who}/${notice.saw}"
        val saw = if (named && notice.who.isNotEmpty()) "${notice.who}: ${notice.saw}" else notice.saw
        fold(body, id, saw, Look.Space.SMALL) { within ->
            val lines = listOf(parts.text(notice.mayDo), parts.softText(notice.rule), parts.softText(notice.source))
            within.add(parts.barred(parts.row(lines, notice.spoken)), look, 0)
            if (named && frame.draws(notice.route)) within.add(parts.plain(notice.who.ifEmpty { headings.lookAt }) { frame.open(notice.route) }, look, Look.Space.SMALL)
        }
    }
}
