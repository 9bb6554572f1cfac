package pitside.phone.screen

import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Labels
import uniffi.pitside_screen.LogSet
import uniffi.pitside_screen.SetForm

/**
 * What is asked about a set. Every change is handed on as what it does to the form, so that quick
 * taps add up; what follows of it is the core's to say.
 */
class SetFields(private val parts: Parts, private val labels: Labels, private val change: ((SetForm) -> SetForm) -> Unit) {
    private val look: Look = parts.look

    /** Repetitions, legs and what else the exercise asks; `sets` asks how many alike. */
    fun draw(body: LinearLayout, screen: LogSet, sets: Boolean = true) {
        val form = screen.form
        body.add(stepper(labels.reps, form.reps) { now, step -> now.copy(reps = (now.reps.toInt() + step).coerceIn(1, 500).toUShort()) }, look)
        if (screen.legs.size > 1) {
            body.add(parts.label(labels.legs), look)
            val legs = screen.legs.map { leg -> parts.choice(leg.text, leg.chosen) { change { it.copy(leg = leg.id) } } }
            body.add(parts.choices(legs), look, 4)
        }
        if (screen.asksCue) {
            val cues = labels.cues.map { cue ->
                parts.choice(cue.text, form.cue == cue.id) { change { it.copy(cue = if (it.cue == cue.id) "" else cue.id) } }
            }
            body.add(parts.choices(cues), look)
        }
        if (screen.asksBox) body.add(box(screen), look)
        if (screen.asksApproach) body.add(strides(form), look)
        if (screen.load.isNotEmpty()) {
            body.add(parts.text(screen.load), look)
            body.add(parts.plain(screen.noLoad) { change { it.copy(loadG = null) } }, look, Look.Space.SMALL)
        }
        if (sets) body.add(stepper(labels.sets, form.sets) { now, step -> now.copy(sets = (now.sets.toInt() + step).coerceIn(1, 50).toUShort()) }, look)
        val warmUp = parts.choice(screen.warmUp, form.warmUp, several = true) { change { it.copy(warmUp = !it.warmUp) } }
        body.add(parts.choices(listOf(warmUp)), look)
    }

    private fun box(screen: LogSet): View {
        val boxes = Boxes(labels)
        return stepper(labels.box, boxes.said(screen.form.boxMm, screen.box)) { now, step -> now.copy(boxMm = boxes.next(now.boxMm, step)) }
    }

    private fun strides(form: SetForm): View = stepper(labels.strides, form.strides) { now, step ->
        val next = ((now.strides?.toInt() ?: 0) + step).takeIf { it in 1..30 }
        now.copy(strides = next?.toUShort())
    }

    private fun stepper(label: String, value: Any?, to: (SetForm, Int) -> SetForm): View =
        parts.stepper(label, value?.toString() ?: labels.notSaid, labels.less, labels.more) { step -> change { to(it, step) } }
}

/** The heights of boxes that a form steps through. */
internal class Boxes(labels: Labels) {
    private val steps = labels.boxes.associate { it.id.toUInt() to it.text }

    /** A height in words; `other` where it is none of the steps, as one that was written in other units. */
    fun said(mm: UInt?, other: String): String? = mm?.let { steps[it] ?: other }

    /** The next step above or below; nothing below the lowest. */
    fun next(mm: UInt?, step: Int): UInt? {
        val now = mm ?: 0u
        return if (step > 0) steps.keys.firstOrNull { it > now } ?: mm else steps.keys.lastOrNull { it < now }
    }
}
