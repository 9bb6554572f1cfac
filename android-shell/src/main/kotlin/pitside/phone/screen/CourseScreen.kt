package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Condition
import uniffi.pitside_screen.OwnCourse
import uniffi.pitside_screen.PitsideInterface

/** The own weeks and times, and how they stand to what comes next. */
class CourseScreen(frame: Frame, context: Context, kept: Bundle?) : TrainingScreen<OwnCourse>(frame, context, kept) {
    /** Whose, where this phone serves several; empty for the first. */
    private var whose = kept?.getString(WHOSE).orEmpty()

    override fun fetch(core: PitsideInterface): OwnCourse = core.ownCourse(frame.phone.device.env(), whose)

    override fun keep(state: Bundle) {
        super.keep(state)
        state.putString(WHOSE, whose)
    }

    override fun draw(record: OwnCourse): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(record.title))
        if (record.nobody.isNotEmpty()) body.add(parts.text(record.nobody), look)
        if (record.members.isNotEmpty()) {
            val members = record.members.map { member ->
                parts.choice(member.text, member.chosen) {
                    whose = member.id
                    load()
                }
            }
            body.add(parts.choices(members), look)
        }
        if (record.against.isNotEmpty()) {
            heading(body, headings.today)
            for (against in record.against) body.add(said(against), look)
        }
        for (limit in record.limits) body.add(parts.caution(limit), look)
        weeks(body, record.rows)
        details(body, record.details)
        next(body, record)
        if (record.takes.isNotEmpty() || record.noTakes.isNotEmpty()) heading(body, headings.takes)
        for (take in record.takes) take(body, take)
        if (record.noTakes.isNotEmpty()) body.add(parts.softText(record.noTakes), look, Look.Space.SMALL)
        for (link in record.links.filter { frame.draws(it.route) }) body.add(parts.plain(link.text) { frame.open(link.route) }, look)
        for (caution in record.cautions) body.add(parts.caution(caution), look, Look.Space.LARGE)
        return page.view
    }

    private fun next(body: LinearLayout, record: OwnCourse) {
        if (record.next.isEmpty()) return
        heading(body, headings.next)
        body.add(parts.softText(record.next), look, Look.Space.SMALL)
        body.add(parts.label(headings.tests), look)
        for (test in record.tests) condition(body, test)
        body.add(parts.label(headings.targets), look)
        for (target in record.targets) condition(body, target)
        if (record.noTargets.isNotEmpty()) body.add(parts.softText(record.noTargets), look, Look.Space.SMALL)
    }

    /** Its state in a word, what was found, and one touch below the line and what to do. */
    private fun condition(body: LinearLayout, condition: Condition) {
        val more = listOf(condition.rule, condition.mayDo, condition.source).filter { it.isNotEmpty() }
        fold(body, "condition/${condition.id}", "${condition.said}: ${condition.saw}", Look.Space.SMALL) { within ->
            within.add(parts.row(more.map(parts::softText), condition.spoken), look, 0)
        }
    }

    private companion object {
        const val WHOSE = "whose"
    }
}
