package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.view.ViewGroup
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.look.leading
import pitside.phone.look.search
import uniffi.pitside_screen.ExerciseQuery
import uniffi.pitside_screen.ExerciseRow
import uniffi.pitside_screen.Exercises
import uniffi.pitside_screen.PitsideInterface

/** The exercises by kind, each kind folded until it is wanted or something is searched for. */
class CatalogueScreen(frame: Frame, context: Context, kept: Bundle?) : Folding<Exercises>(frame, context, kept) {
    private var query = ExerciseQuery(kept?.getString(SEARCH).orEmpty(), kept?.getString(SORT).orEmpty(), kept?.getString(EVENT).orEmpty())

    /** Stays while what is in it is drawn anew, so that typing above it goes on. */
    private val list = parts.column()

    override fun fetch(core: PitsideInterface): Exercises = core.exercises(frame.phone.device.env(), query)

    override fun keep(state: Bundle) {
        super.keep(state)
        state.putString(SEARCH, query.search)
        state.putString(SORT, query.sort)
        state.putString(EVENT, query.event)
    }

    private fun search(next: ExerciseQuery) {
        query = next
        load()
    }

    override fun refresh(record: Exercises) {
        fill(record)
        if (view.findViewById<View>(R.id.search) == null) super.refresh(record)
    }

    override fun draw(record: Exercises): View {
        val page = parts.page()
        page.body.addView(parts.title(record.title))
        page.body.add(parts.softText(record.about), look)
        page.body.add(parts.search(headings.search, query.search) { search(query.copy(search = it)) }.apply { id = R.id.search }, look)
        (list.parent as? ViewGroup)?.removeView(list)
        page.body.add(list, look, 0)
        return page.view
    }

    private fun fill(record: Exercises) {
        list.removeAllViews()
        orders(list, record)
        list.add(parts.label(record.found), look)
        for (group in record.groups) {
            val rows = { body: LinearLayout -> group.rows.forEach { row(body, it) } }
            // What was searched for is few, and wanted.
            if (query.search.isBlank()) {
                fold(list, "kind/${group.id}", "${group.label} (${group.rows.size})", Look.Space.SMALL, rows)
            } else {
                list.add(parts.label(group.label), look)
                rows(list)
            }
        }
        if (record.missing.isNotEmpty()) list.add(parts.softText(record.missing), look)
    }

    private fun orders(body: LinearLayout, record: Exercises) {
        val chosen = record.sorts.firstOrNull { it.chosen }?.text.orEmpty()
        fold(body, "order", "${headings.order}: $chosen", Look.Space.SMALL) { within ->
            for ((group, sorts) in record.sorts.groupBy { it.group }) {
                if (group.isNotEmpty()) within.add(parts.label(group), look)
                within.add(parts.choices(sorts.map { sort -> parts.choice(sort.text, sort.chosen) { search(query.copy(sort = sort.id)) } }), look, 4)
            }
        }
        if (record.like.isEmpty()) return
        body.add(parts.label(record.like), look)
        body.add(parts.choices(record.events.map { event -> parts.choice(event.text, event.chosen) { search(query.copy(event = event.id)) } }), look, 4)
    }

    private fun row(body: LinearLayout, exercise: ExerciseRow) {
        val figures = listOf(exercise.landing, exercise.push, exercise.contact).filter { it.isNotEmpty() }.joinToString(" · ")
        val lines = listOf(parts.text(exercise.name)) + listOf(exercise.like, figures, exercise.mark).map(parts::softText)
        body.add(parts.leading(parts.row(lines, exercise.spoken)) { frame.open(exercise.route) }, look, Look.Space.SMALL)
    }

    private companion object {
        const val SEARCH = "search"
        const val SORT = "sort"
        const val EVENT = "event"
    }
}
