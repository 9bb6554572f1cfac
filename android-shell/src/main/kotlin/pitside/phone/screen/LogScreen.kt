package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Again
import uniffi.pitside_screen.LogSet
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.SetForm

/**
 * A set, filled in from the last one: saving it again is one touch from here, and so is a whole
 * session as it was. Every tap is kept by the core, so that nothing is lost with the process.
 */
class LogScreen(frame: Frame, context: Context, kept: Bundle?) : Screen(frame, context) {
    private val exercise = ExerciseChoice(parts, labels, kept)
    private val fields = SetFields(parts, labels, ::change)

    private val filled = Filled<SetForm>()

    override fun load() = bring { it.logSet(frame.phone.device.env()) }

    override fun keep(state: Bundle) = exercise.keep(state)

    /** Keeps what was tapped. What follows of it is the core's to say: legs, and what speaks against it. */
    private fun change(edit: (SetForm) -> SetForm) {
        val form = filled.change(edit)
        bring {
            it.keepSet(form)
            it.logSet(frame.phone.device.env())
        }
    }

    private fun writeFor(athlete: String) = bring {
        it.writeFor(athlete)
        it.logSet(frame.phone.device.env())
    }

    private fun bring(call: (PitsideInterface) -> LogSet) {
        val asked = filled.form
        ask(call) { redraw(draw(it.copy(form = filled.answered(asked, it.form)))) }
    }

    /** Saves what was tapped last, also where that is not drawn yet. */
    private fun save(screen: LogSet) {
        val form = filled.form ?: screen.form
        // As it is now, also where it is tried once more, later and perhaps for another athlete.
        val (env, member) = frame.phone.device.env() to whose(screen)
        act({ it.logToday(env, member, form) }) { frame.back() }
    }

    private fun repeat(screen: LogSet, again: Again) {
        val (env, member) = frame.phone.device.env() to whose(screen)
        act({ it.repeatSession(env, member, again.session) }) { frame.open(it) }
    }

    /** Who did it; empty where this phone serves one alone. */
    private fun whose(screen: LogSet): String = screen.athletes.firstOrNull { it.chosen }?.id.orEmpty()

    private fun draw(screen: LogSet): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(screen.title))
        if (screen.athletes.isNotEmpty()) {
            val names = screen.athletes.map { athlete -> parts.choice(athlete.text, athlete.chosen) { writeFor(athlete.id) } }
            body.add(parts.choices(names), look)
        }
        for (limit in screen.limits) body.add(parts.caution(limit), look)
        screen.again?.let { again(page, screen, it) }
        exercise.draw(
            body, screen,
            redraw = { redraw(draw(screen.copy(form = filled.form ?: screen.form))) },
            find = { text, found -> ask({ it.findExercises(frame.phone.device.env(), text) }, then = found) },
            choose = ::change,
        )
        fields.draw(body, screen)
        // What stands against both in short above is said once in full.
        val whole = screen.against + screen.again?.against.orEmpty().filter { it !in screen.against }
        for (against in whole) body.add(said(against), look, Look.Space.LARGE)
        if (screen.bound.isNotEmpty()) body.add(parts.text(screen.bound), look)
        if (screen.caution.isNotEmpty()) body.add(parts.caution(screen.caution), look, Look.Space.LARGE)
        if (screen.about.isNotEmpty()) body.add(parts.softText(screen.about), look)
        // Of two who share a phone neither is taken for the other.
        if (screen.athletes.isEmpty() || screen.athletes.any { it.chosen }) {
            page.foot.add(parts.wide(labels.saveSet) { save(screen) }.apply { id = R.id.save }, look, 0)
            closeFoot(page)
        }
        return page.view
    }

    private fun again(page: Parts.Page, screen: LogSet, again: Again) {
        val button = parts.plain(again.text) { repeat(screen, again) }.apply {
            minHeight = look.dp(Look.Touch.WIDE)
            contentDescription = again.spoken
        }
        page.body.add(button, look)
        for (set in again.sets) {
            page.body.add(parts.softText(set).apply { importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO }, look, 4)
        }
        for (against in again.against) page.body.add(parts.caution("${against.grade}: ${against.saw}"), look, Look.Space.SMALL)
        if (again.bound.isNotEmpty()) page.body.add(parts.text(again.bound), look)
        page.body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.MIDDLE) })
    }
}
