package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.look.leading
import uniffi.pitside_screen.Between
import uniffi.pitside_screen.Link
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.PlannedSession
import uniffi.pitside_screen.PlannedSets
import uniffi.pitside_screen.Said
import uniffi.pitside_screen.SetForm
import uniffi.pitside_screen.Today

/**
 * The first screen: the session to do, what was done today and what can be done. A set as planned
 * is one touch; then the screen is locked, and only a bar that is held unlocks it.
 */
class TodayScreen(frame: Frame, private val context: Context, kept: Bundle?) : Screen(frame, context) {
    /** The row that is open for what was done otherwise. */
    private var open: Otherwise? = kept?.let(Otherwise::read)

    override fun load() = ask({ it.today(frame.phone.device.env()) }, always = ::remind) { today(it, false) }

    override fun keep(state: Bundle) {
        open?.keep(state)
    }

    /** Does something and shows what came of it. */
    private fun act(call: (PitsideInterface) -> Unit): Unit = act({
        call(it)
        thenRead { it.today(frame.phone.device.env()) }
    }, ::remind) {
        open = null
        today(it, true)
    }

    /** What is told at its time, wherever the person is by then. */
    private fun remind(today: Today) {
        frame.phone.reminders.set(today.reminder)
        val left = today.between?.let { it.untilMs - frame.phone.device.env().nowMs } ?: 0
        if (left > 0) frame.phone.pulse.after(left) else frame.phone.pulse.cancel()
    }

    private fun today(today: Today, stay: Boolean) {
        val between = today.between
        val locked = between != null && between.locked
        frame.alone(locked)
        val whole = if (between != null && locked) locked(today, between) else draw(today)
        if (stay && !locked) redraw(whole) else show(whole)
    }

    /** Nothing can be touched here but the bar. */
    private fun locked(today: Today, between: Between): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(today.title))
        rest(body, between)
        if (between.next.isNotEmpty()) {
            body.add(parts.label(labels.next), look, Look.Space.LARGE)
            body.add(parts.leading(between.next), look, 4)
            if (between.cue.isNotEmpty()) body.add(parts.text(between.cue), look, Look.Space.SMALL)
        }
        if (between.done.isNotEmpty()) body.add(parts.softText("\u2713 ${between.done}"), look, Look.Space.LARGE)
        val unlock = parts.hold(labels.holdToUnlock, labels.unlock) { act { it.lockBetween(frame.phone.device.env(), false) } }
        page.foot.add(unlock.apply { id = R.id.hold; minHeight = look.dp(LOCK) }, look, 0)
        closeFoot(page)
        return page.view
    }

    private fun rest(body: LinearLayout, between: Between) {
        if (between.untilMs == 0L) return
        val clock = RestClock(context, parts, labels, between.sinceMs, between.untilMs) { frame.phone.device.env().nowMs }
        body.add(clock.view, look)
    }

    private fun draw(today: Today): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(today.title))
        notices(body, today.notices)
        for (limit in today.limits) body.add(parts.caution(limit), look)
        today.between?.let { rest(body, it) }
        for (plan in today.plans) plan(body, today, plan)
        for (link in today.coming.filter { frame.draws(it.route) }) {
            val row = parts.row(listOf(parts.text(link.text)), link.text)
            body.add(parts.leading(row) { frame.open(link.route) }, look)
        }
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
        if (today.plans.any { plan -> plan.rows.any { it.next } }) {
            // What is to be done has the main button; the rest stands where it is looked for.
            body.add(parts.column(), look, Look.Space.SMALL)
            actions(body, actions, main = false)
            page.foot.add(parts.plain(labels.lock) { act { it.lockBetween(frame.phone.device.env(), true) } }, look, 0)
        } else {
            // On its side a phone is low: what was done has the height.
            val low = context.resources.configuration.screenHeightDp < LOW
            actions(page.foot, if (low) actions.take(1) else actions, main = true)
            if (low) actions(body, actions.drop(1), main = false)
        }
        closeFoot(page)
        return page.view
    }

    private fun actions(into: LinearLayout, actions: List<Link>, main: Boolean) {
        for ((at, action) in actions.withIndex()) {
            val go = { frame.open(action.route) }
            into.add(if (at == 0 && main) parts.wide(action.text, go) else parts.plain(action.text, go), look, Look.Space.SMALL)
        }
    }

    private fun plan(body: LinearLayout, today: Today, plan: PlannedSession) {
        if (plan.who.isNotEmpty()) body.add(parts.label(plan.who), look, Look.Space.LARGE)
        body.add(parts.heading(plan.purpose), look, if (plan.who.isEmpty()) Look.Space.LARGE else 4)
        body.add(parts.softText(plan.progress), look, 4)
        if (plan.note.isNotEmpty()) body.add(parts.text(plan.note), look, Look.Space.SMALL)
        if (plan.clash.isNotEmpty()) body.add(parts.caution(plan.clash), look)
        for (against in plan.against) body.add(if (against.refuses) said(against) else brief(against), look)
        for (row in plan.rows) row(body, today, plan, row)
        body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.MIDDLE) })
    }

    /** What was seen and what may be done; by which rule stands where a row is unfolded. */
    private fun brief(said: Said): View = parts.caution("${said.grade}: ${said.saw} ${said.mayDo}")

    private fun row(body: LinearLayout, today: Today, plan: PlannedSession, row: PlannedSets) {
        val unfolded = open?.takeIf { it.plan == plan.id && it.row == row.number.toInt() }
        val more = row.done < row.sets
        body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.MIDDLE) })
        val text = if (more) parts.leading(row.text) else parts.softText("\u2713 ${row.text}")
        val progress = listOf(row.progress, row.rest.takeIf { more }.orEmpty()).filter { it.isNotEmpty() }.joinToString(" · ")
        val cue = parts.text(row.cue.takeIf { more }.orEmpty())
        body.add(parts.row(listOf(text, cue, parts.softText(progress)), row.spoken), look, 0)
        val careful = row.next || unfolded != null
        for (against in row.against) when {
            unfolded != null || against.refuses -> body.add(said(against), look, Look.Space.SMALL)
            careful -> body.add(brief(against), look, Look.Space.SMALL)
        }
        if (careful && row.caution.isNotEmpty()) body.add(parts.caution(row.caution), look, Look.Space.SMALL)
        if (more && row.offered && unfolded == null) {
            val done = {
                val env = frame.phone.device.env()
                act { it.doneAsPlanned(env, plan.id, row.number, null) }
            }
            val wide = if (row.next) parts.wide(labels.doneAsPlanned, done).apply { id = R.id.done_as_planned } else parts.broad(labels.doneAsPlanned, done)
            body.add(wide.apply { contentDescription = "${labels.doneAsPlanned}: ${row.text}" }, look, Look.Space.SMALL)
        }
        val fold = parts.flat("${labels.doneOtherwise} ${if (unfolded == null) "\u25BE" else "\u25B4"}") {
            open = if (unfolded == null) Otherwise(plan.id, row.number.toInt(), row.form) else null
            redraw(draw(today))
        }
        body.add(fold.apply { contentDescription = "${labels.doneOtherwise}: ${row.text}" }, look, 4)
        unfolded?.let { otherwise(body, today, plan, row, it) }
    }

    /** What can differ from the plan, and the way to take the last set back. */
    private fun otherwise(body: LinearLayout, today: Today, plan: PlannedSession, row: PlannedSets, now: Otherwise) {
        val form = now.form
        if (row.bound.isNotEmpty()) body.add(parts.softText(row.bound), look, Look.Space.SMALL)
        val change = { next: SetForm ->
            open = now.copy(form = next)
            redraw(draw(today))
        }
        val stepper = { label: String, value: String, step: (Int) -> Unit -> parts.stepper(label, value, labels.less, labels.more, step) }
        body.add(
            stepper(labels.reps, form.reps.toString()) { change(form.copy(reps = (form.reps.toInt() + it).coerceIn(1, 500).toUShort())) },
            look,
            Look.Space.SMALL,
        )
        if (row.asksApproach) {
            val strides = form.strides?.toInt()
            val value = strides?.toString() ?: labels.notSaid
            body.add(
                stepper(labels.strides, value) { change(form.copy(strides = ((strides ?: 0) + it).takeIf { n -> n in 1..30 }?.toUShort())) },
                look,
            )
        }
        if (row.legs.size > 1) {
            body.add(parts.label(labels.legs), look)
            val legs = row.legs.map { leg -> parts.choice(leg.text, leg.id == form.leg) { change(form.copy(leg = leg.id)) } }
            body.add(parts.choices(legs), look, 4)
        }
        if (row.asksBox) {
            val boxes = Boxes(labels)
            body.add(stepper(labels.box, boxes.said(form.boxMm, row.box) ?: labels.notSaid) { change(form.copy(boxMm = boxes.next(form.boxMm, it))) }, look)
        }
        val save = {
            val env = frame.phone.device.env()
            act { it.doneAsPlanned(env, plan.id, row.number, form) }
        }
        body.add(parts.wide(labels.saveOtherwise, save).apply { id = R.id.save }, look)
        if (row.about.isNotEmpty()) body.add(parts.softText(row.about), look)
        for (against in plan.against) if (!against.refuses) body.add(said(against), look)
        row.last?.let { last ->
            val back = parts.hold(labels.holdToTakeBack, "${labels.takeBack}: ${last.text}") {
                act { it.takeBackPlanned(frame.phone.device.env(), plan.member, last.id) }
            }
            body.add(parts.softText("\u2713 ${last.text}"), look)
            body.add(back.apply { id = R.id.hold }, look, Look.Space.SMALL)
        }
    }

    /** What is filled in of a set that was done otherwise. */
    private data class Otherwise(val plan: String, val row: Int, val form: SetForm) {
        fun keep(state: Bundle) {
            state.putString(PLAN, plan)
            state.putInt(ROW, row)
            state.putString(EXERCISE, form.exercise)
            state.putInt(REPS, form.reps.toInt())
            state.putString(LEG, form.leg)
            form.boxMm?.let { state.putInt(BOX, it.toInt()) }
            form.strides?.let { state.putInt(STRIDES, it.toInt()) }
            form.loadG?.let { state.putInt(LOAD, it.toInt()) }
            state.putString(CUE, form.cue)
            state.putBoolean(WARM_UP, form.warmUp)
        }

        companion object {
            fun read(state: Bundle): Otherwise? {
                val plan = state.getString(PLAN) ?: return null
                val number = { key: String -> if (state.containsKey(key)) state.getInt(key) else null }
                val form = SetForm(
                    exercise = state.getString(EXERCISE).orEmpty(),
                    sets = 1u,
                    reps = state.getInt(REPS).toUShort(),
                    leg = state.getString(LEG).orEmpty(),
                    boxMm = number(BOX)?.toUInt(),
                    strides = number(STRIDES)?.toUShort(),
                    loadG = number(LOAD)?.toUInt(),
                    last10MMs = null,
                    cue = state.getString(CUE).orEmpty(),
                    warmUp = state.getBoolean(WARM_UP),
                )
                return Otherwise(plan, state.getInt(ROW), form)
            }
        }
    }

    private companion object {
        /** The height of the bar that unlocks, dp: found without looking. */
        const val LOCK = 104

        /** Below this height, dp, only the main thing to do stays in sight. */
        const val LOW = 480

        const val PLAN = "plan"
        const val ROW = "row"
        const val EXERCISE = "exercise"
        const val REPS = "reps"
        const val LEG = "leg"
        const val BOX = "box"
        const val STRIDES = "strides"
        const val LOAD = "load"
        const val CUE = "cue"
        const val WARM_UP = "warm-up"
    }
}
