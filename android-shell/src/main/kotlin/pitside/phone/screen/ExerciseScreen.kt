package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.ContactCard
import uniffi.pitside_screen.ExercisePage
import uniffi.pitside_screen.NumberRow
import uniffi.pitside_screen.PitsideInterface

/** One exercise: how it is done, its contacts, and each number with what it rests on. */
class ExerciseScreen(frame: Frame, context: Context, private val id: String, kept: Bundle?) : Folding<ExercisePage>(frame, context, kept) {
    override fun fetch(core: PitsideInterface): ExercisePage = core.exercise(frame.phone.device.env(), id)

    override fun draw(record: ExercisePage): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(record.title))
        body.add(parts.text(record.about), look)
        if (record.cue.isNotEmpty()) body.add(parts.text(record.cue), look, Look.Space.SMALL)
        for (caution in record.cautions) body.add(parts.caution(caution), look)
        heading(body, headings.contacts)
        for (contact in record.contacts) contact(body, contact)
        if (record.mark.isNotEmpty()) body.add(parts.softText(record.mark), look, Look.Space.SMALL)
        body.add(parts.row(listOf(parts.label(headings.source), parts.softText(record.source)), "${headings.source}: ${record.source}"), look, 0)
        fold(body, "card", headings.card) { within -> pairs(within, record.card) }
        fold(body, "like", headings.likeness) { within ->
            for (like in record.likeness) {
                within.add(parts.heading(like.event), look, Look.Space.SMALL)
                pairs(within, like.parts)
            }
            within.add(parts.softText(record.likeNote), look)
        }
        return page.view
    }

    private fun contact(body: LinearLayout, contact: ContactCard) {
        val lines = listOf(parts.text(contact.label)) + listOf(contact.landing, contact.push, contact.seconds, contact.mark).map(parts::softText)
        val spoken = lines.map { it.text }.filter { it.isNotEmpty() }.joinToString(". ")
        body.add(parts.row(lines, spoken), look, Look.Space.SMALL)
        if (contact.numbers.isEmpty()) return
        fold(body, "numbers/${contact.id}", headings.numbers, 0) { within -> contact.numbers.forEach { number(within, it) } }
    }

    private fun number(body: LinearLayout, number: NumberRow) {
        val inputs = number.inputs.map { input ->
            val told = listOf("${input.label}: ${input.symbol} = ${input.value}", input.origin, input.uncertainty)
            parts.softText(told.filter { it.isNotEmpty() }.joinToString(" · "))
        }
        val lines = listOf(parts.label(number.label), parts.text(number.value), parts.softText(number.symbols), parts.softText(number.numbers)) +
            inputs + listOf(parts.softText(number.uncertainty), parts.softText(number.source))
        body.add(parts.row(lines, number.spoken), look, 0)
        body.addView(parts.rule(), parts.ruled)
    }
}
