package pitside.phone.screen

import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Labels
import uniffi.pitside_screen.LogSet
import uniffi.pitside_screen.SetForm

/** What is asked about a set; every change is handed on, and what follows of it is the core's to say. */
class SetFields(private val parts: Parts, private val labels: Labels, private val change: (SetForm) -> Unit) {
    private val look: Look = parts.look

    /** Repetitions, legs and what else the exercise asks; `sets` asks how many alike. */
    fun draw(body: LinearLayout, screen: LogSet, sets: Boolean = true) {
        val form = screen.form
        body.add(stepper(labels.reps, form.reps.toInt(), 1..500) { change(form.copy(reps = it.toUShort())) }, look)
        if (screen.legs.size > 1) {
            body.add(parts.label(labels.legs), look)
            val legs = screen.legs.map { leg -> parts.choice(leg.text, leg.chosen) { change(form.copy(leg = leg.id)) } }
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
        if (screen.asksApproach) body.add(strides(form), look)
        if (screen.load.isNotEmpty()) {
            body.add(parts.text(screen.load), look)
            body.add(parts.plain(screen.noLoad) { change(form.copy(loadG = null)) }, look, Look.Space.SMALL)
        }
        if (sets) body.add(stepper(labels.sets, form.sets.toInt(), 1..50) { change(form.copy(sets = it.toUShort())) }, look)
        val warmUp = parts.choice(screen.warmUp, form.warmUp, several = true) { change(form.copy(warmUp = !form.warmUp)) }
        body.add(parts.choices(listOf(warmUp)), look)
    }

    private fun box(screen: LogSet): View {
        val at = labels.boxes.indexOfLast { it.id.toUInt() <= (screen.form.boxMm ?: 0u) }
        val value = labels.boxes.getOrNull(at)?.text ?: labels.notSaid
        return parts.stepper(labels.box, value, labels.less, labels.more) { step ->
            val next = labels.boxes.getOrNull((at + step).coerceAtMost(labels.boxes.lastIndex))
            change(screen.form.copy(boxMm = next?.id?.toUInt()))
        }
    }

    private fun strides(form: SetForm): View {
        val strides = form.strides?.toInt()
        return parts.stepper(labels.strides, strides?.toString() ?: labels.notSaid, labels.less, labels.more) { step ->
            val next = ((strides ?: 0) + step).takeIf { it in 1..30 }
            change(form.copy(strides = next?.toUShort()))
        }
    }

    private fun stepper(label: String, value: Int, range: IntRange, to: (Int) -> Unit): View =
        parts.stepper(label, value.toString(), labels.less, labels.more) { to((value + it).coerceIn(range)) }
}
