package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.LogSet
import uniffi.pitside_screen.SetForm

/**
 * A set, filled in from the last one: saving it again is one touch from here. Every tap is kept
 * by the core, so that nothing is lost with the process.
 */
class LogScreen(frame: Frame, context: Context, kept: Bundle?) : Screen(frame, context) {
    private var choosing = kept?.getBoolean(CHOOSING) ?: false

    override fun load() = ask({ it.logSet(frame.phone.device.env()) }) { redraw(draw(it)) }

    override fun keep(state: Bundle) = state.putBoolean(CHOOSING, choosing)

    /** Keeps what was tapped. What follows of it is the core's to say: legs, and what speaks against it. */
    private fun change(form: SetForm) = ask({
        it.keepSet(form)
        it.logSet(frame.phone.device.env())
    }) { redraw(draw(it)) }

    private fun save(form: SetForm) =
        ask({ it.logToday(frame.phone.device.env(), "", form) }) { frame.back() }

    private fun draw(screen: LogSet): View {
        val page = parts.page()
        val body = page.body
        val form = screen.form
        body.addView(parts.title(screen.title))
        for (limit in screen.limits) body.add(parts.caution(limit), look)
        exercises(body, screen)
        body.add(stepper(labels.reps, form.reps.toInt(), 1..999) { change(form.copy(reps = it.toUShort())) }, look)
        if (screen.legs.size > 1) {
            body.add(parts.label(labels.legs), look)
            val legs = screen.legs.map { leg ->
                parts.choice(leg.text, leg.chosen) { change(form.copy(leg = leg.id)) }
            }
            body.add(parts.choices(legs), look, 4)
        }
        if (screen.asksCue) {
            val cues = labels.cues.map { cue ->
                val chosen = form.cue == cue.id
                parts.choice(cue.text, chosen) { change(form.copy(cue = if (chosen) "" else cue.id)) }
            }
            body.add(parts.choices(cues), look)
        }
        if (screen.asksBox) body.add(box(screen), look)
        if (screen.asksApproach) {
            val strides = form.strides?.toInt()
            body.add(
                parts.stepper(labels.strides, strides?.toString() ?: labels.notSaid, labels.less, labels.more) { step ->
                    val next = ((strides ?: 0) + step).takeIf { it in 1..60 }
                    change(form.copy(strides = next?.toUShort()))
                },
                look,
            )
        }
        body.add(stepper(labels.sets, form.sets.toInt(), 1..50) { change(form.copy(sets = it.toUShort())) }, look)
        for (against in screen.against) body.add(said(against), look, Look.Space.LARGE)
        if (screen.bound.isNotEmpty()) body.add(parts.text(screen.bound), look)
        if (screen.caution.isNotEmpty()) body.add(parts.caution(screen.caution), look, Look.Space.LARGE)
        if (screen.about.isNotEmpty()) body.add(parts.softText(screen.about), look)
        page.foot.add(parts.wide(labels.saveSet) { save(form) }.apply { id = R.id.save }, look, 0)
        closeFoot(page)
        return page.view
    }

    private fun exercises(body: LinearLayout, screen: LogSet) {
        val chosen = screen.exercises.firstOrNull { it.chosen }
        body.add(parts.label(labels.exercise), look)
        val unfold = parts.plain(chosen?.text ?: labels.notSaid) {
            choosing = !choosing
            redraw(draw(screen))
        }
        unfold.contentDescription = "${labels.exercise}: ${chosen?.text ?: labels.notSaid}"
        body.add(unfold, look, 4)
        if (!choosing) return
        for ((group, exercises) in screen.exercises.groupBy { it.group }) {
            body.add(parts.label(group), look)
            val choices = exercises.map { exercise ->
                parts.choice(exercise.text, exercise.chosen) {
                    choosing = false
                    change(screen.form.copy(exercise = exercise.id, leg = ""))
                }
            }
            body.add(parts.choices(choices), look, 4)
        }
    }

    private fun box(screen: LogSet): View {
        val at = labels.boxes.indexOfLast { it.id.toUInt() <= (screen.form.boxMm ?: 0u) }
        val value = labels.boxes.getOrNull(at)?.text ?: labels.notSaid
        return parts.stepper(labels.box, value, labels.less, labels.more) { step ->
            val next = labels.boxes.getOrNull((at + step).coerceAtMost(labels.boxes.lastIndex))
            change(screen.form.copy(boxMm = next?.id?.toUInt()))
        }
    }

    private fun stepper(label: String, value: Int, range: IntRange, to: (Int) -> Unit): View =
        parts.stepper(label, value.toString(), labels.less, labels.more) { to((value + it).coerceIn(range)) }

    private companion object {
        const val CHOOSING = "choosing"
    }
}
