package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.look.holds
import uniffi.pitside_screen.SessionLog

/** One session: each set by itself, to be held and put right; how it was; why it was cut short. */
class SessionScreen(frame: Frame, context: Context, kept: Bundle?, private val session: String) : Screen(frame, context) {
    private var conditions = kept?.getBoolean(CONDITIONS) ?: false

    private val clashes = Clashes(parts, kept)

    override fun load() = ask({ it.sessionLog(frame.phone.device.env(), session) }) { redraw(draw(it)) }

    override fun keep(state: Bundle) {
        state.putBoolean(CONDITIONS, conditions)
        clashes.keep(state)
    }

    private fun settle(member: String, choice: String) = act({
        it.settle(frame.phone.device.env(), member, choice)
        it.sessionLog(frame.phone.device.env(), session)
    }) { redraw(draw(it)) }

    private fun draw(screen: SessionLog): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(screen.title))
        if (screen.athlete.isNotEmpty()) body.add(parts.text(screen.athlete), look)
        for (pair in screen.card) {
            val spoken = "${pair.label}: ${pair.value}"
            body.add(parts.row(listOf(parts.label(pair.label), parts.text(pair.value)), spoken).apply { setPadding(0, 0, 0, 0) }, look, Look.Space.SMALL)
        }
        screen.effort?.let { effort -> body.add(parts.plain(effort.text) { frame.open(effort.route) }, look) }
        if (screen.whoMay.isNotEmpty()) body.add(parts.softText(screen.whoMay), look)
        sets(body, screen)
        for (total in screen.totals) body.add(parts.text(total), look, Look.Space.SMALL)
        cut(body, screen)
        conditions(body, screen)
        for (clash in screen.clashes) clashes.draw(body, clash, { redraw(draw(screen)) }) { settle(clash.member, it) }
        for (caution in screen.cautions) body.add(parts.caution(caution), look)
        return page.view
    }

    private fun sets(body: LinearLayout, screen: SessionLog) {
        body.add(parts.column(), look, Look.Space.SMALL)
        if (screen.empty.isNotEmpty()) body.add(parts.text(screen.empty), look)
        for (set in screen.sets) {
            val row = parts.row(listOf(parts.text(set.text), parts.softText(set.note)), set.spoken)
            if (set.route.isNotEmpty()) row.holds(screen.hold) { frame.open(set.route) }
            body.add(row, look, 0)
            body.addView(parts.rule(), parts.ruled)
        }
        if (screen.hold.isNotEmpty()) body.add(parts.softText(screen.hold), look, Look.Space.SMALL)
    }

    private fun cut(body: LinearLayout, screen: SessionLog) {
        if (screen.cut.isEmpty()) return
        body.add(parts.label(screen.cutLabel), look, Look.Space.LARGE)
        val reasons = screen.cut.map { why ->
            parts.choice(why.text, why.chosen) {
                ask({
                    it.cutShort(frame.phone.device.env(), session, why.id)
                    it.sessionLog(frame.phone.device.env(), session)
                }, saves = true) { redraw(draw(it)) }
            }.apply { contentDescription = "${screen.cutLabel} ${why.text}" }
        }
        body.add(parts.choices(reasons), look, 4)
        body.add(parts.softText(screen.cutNote), look, Look.Space.SMALL)
        screen.checkIn?.takeIf { frame.draws(it.route) }?.let { link ->
            body.add(parts.plain(link.text) { frame.open(link.route) }, look, Look.Space.SMALL)
        }
        if (screen.cutBack.isNotEmpty()) {
            val back = parts.hold(screen.cutBack, screen.cutBackSpoken) {
                ask({
                    it.notCutShort(frame.phone.device.env(), session)
                    it.sessionLog(frame.phone.device.env(), session)
                }, saves = true) { redraw(draw(it)) }
            }
            body.add(back.apply { id = R.id.hold }, look, Look.Space.SMALL)
        }
    }

    private fun conditions(body: LinearLayout, screen: SessionLog) {
        if (screen.conditions.isEmpty()) return
        val unfold = parts.plain(screen.conditionsLabel) {
            conditions = !conditions
            redraw(draw(screen))
        }
        body.add(unfold, look, Look.Space.LARGE)
        if (!conditions) return
        for (row in screen.conditions) {
            body.add(parts.label(row.label), look)
            val choices = row.choices.map { choice ->
                parts.choice(choice.text, choice.chosen) {
                    ask({
                        it.sayCondition(frame.phone.device.env(), session, row.id, if (choice.chosen) "" else choice.id)
                        it.sessionLog(frame.phone.device.env(), session)
                    }, saves = true) { redraw(draw(it)) }
                }.apply { contentDescription = "${row.label}: ${choice.text}" }
            }
            body.add(parts.choices(choices), look, 4)
        }
    }

    private companion object {
        const val CONDITIONS = "conditions"
    }
}
