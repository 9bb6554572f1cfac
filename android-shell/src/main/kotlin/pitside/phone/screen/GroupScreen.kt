package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.Button
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import pitside.phone.look.field
import pitside.phone.look.holds
import uniffi.pitside_screen.Group
import uniffi.pitside_screen.GroupForm
import uniffi.pitside_screen.GroupRow
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.SetForm

/** One phone that logs for many: roll, exercise, names. How far it is, is kept by the core. */
class GroupScreen(frame: Frame, context: Context, kept: Bundle?) : Screen(frame, context) {
    private val exercise = ExerciseChoice(parts, labels, kept)
    private var name = kept?.getString(NAME).orEmpty()

    private val filled = Filled<GroupForm>()

    override fun load() = bring { it.group(frame.phone.device.env()) }

    override fun keep(state: Bundle) {
        exercise.keep(state)
        state.putString(NAME, name)
    }

    private fun change(edit: (GroupForm) -> GroupForm) {
        val form = filled.change(edit)
        bring {
            it.keepGroup(frame.phone.device.env(), form)
            it.group(frame.phone.device.env())
        }
    }

    private fun bring(saves: Boolean = false, call: (PitsideInterface) -> Group) {
        val asked = filled.form
        ask(call, saves = saves) { redraw(draw(it.with(filled.answered(asked, it.form)))) }
    }

    private fun Group.with(form: GroupForm) = copy(form = form, exercise = exercise?.copy(form = form.form))

    private fun draw(screen: Group): View {
        val page = parts.page()
        page.body.addView(parts.title(screen.title))
        page.body.add(parts.softText(screen.about), look)
        when (screen.form.step) {
            EXERCISE -> exercise(page, screen)
            NAMES -> names(page, screen)
            else -> roll(page, screen)
        }
        for (effort in screen.efforts) page.body.add(parts.plain(effort.text) { frame.open(effort.route) }, look, Look.Space.SMALL)
        return page.view
    }

    private fun roll(page: Parts.Page, screen: Group) {
        val names = screen.roll.map { athlete ->
            parts.choice(athlete.text, athlete.chosen, several = true) {
                change { it.copy(present = if (athlete.id in it.present) it.present - athlete.id else it.present + athlete.id) }
            }
        }
        page.body.add(parts.choices(names), look)
        if (screen.everybody.isNotEmpty()) {
            page.body.add(parts.plain(screen.everybody) { change { form -> form.copy(present = screen.roll.map { it.id }) } }, look)
        }
        if (screen.namingLabel.isNotEmpty()) {
            page.body.add(parts.field(screen.namingLabel, name) { name = it }, look, Look.Space.LARGE)
            page.body.add(parts.plain(screen.namingSave) { add(screen) }, look, Look.Space.SMALL)
            if (screen.namingAbout.isNotEmpty()) page.body.add(parts.softText(screen.namingAbout), look, Look.Space.SMALL)
        }
        if (screen.whoMay.isNotEmpty()) page.body.add(parts.softText(screen.whoMay), look, Look.Space.LARGE)
        foot(page, screen) { goTo(EXERCISE) }
    }

    private fun add(screen: Group) {
        val name = name
        if (name.isBlank()) return
        val asked = filled.form
        act({
            it.nameAthlete(frame.phone.device.env(), screen.naming, name)
            it.group(frame.phone.device.env())
        }) {
            this.name = ""
            redraw(draw(it.with(filled.answered(asked, it.form))))
        }
    }

    private fun goTo(step: String) = change { it.copy(step = step) }

    private fun exercise(page: Parts.Page, screen: Group) {
        val log = screen.exercise ?: return
        val set = { edit: (SetForm) -> SetForm -> change { it.copy(form = edit(it.form)) } }
        exercise.draw(
            page.body, log,
            redraw = { redraw(draw(screen.with(filled.form ?: screen.form))) },
            find = { text, found -> ask({ it.findExercises(frame.phone.device.env(), text) }, then = found) },
            choose = set,
        )
        SetFields(parts, labels, set).draw(page.body, log, sets = false)
        if (log.caution.isNotEmpty()) page.body.add(parts.caution(log.caution), look)
        page.body.add(parts.plain(screen.toRoll) { goTo(ROLL) }, look, Look.Space.LARGE)
        foot(page, screen) { goTo(NAMES) }
    }

    private fun names(page: Parts.Page, screen: Group) {
        page.body.add(parts.text(screen.what), look)
        if (screen.againstAll.isNotEmpty()) page.body.add(parts.caution(screen.againstAll), look)
        for (row in screen.rows) page.body.add(athlete(screen, row), look, Look.Space.SMALL)
        // Side by side where they fit: the names need the height.
        val ways = listOf(
            parts.plain(screen.toExercise) { goTo(EXERCISE) },
            parts.plain(screen.toRoll) { goTo(ROLL) },
        )
        page.foot.add(parts.choices(ways), look, Look.Space.SMALL)
        closeFoot(page)
    }

    /** A name to be tapped for a set, and held to take the last one back. */
    private fun athlete(screen: Group, row: GroupRow): View {
        val lines = listOf(row.name, listOf(row.count, row.next).filter { it.isNotEmpty() }.joinToString(" · "))
        val button: Button = parts.plain(lines.joinToString("\n")) {
            // As it is now, also where it is tried once more, when the group does something else.
            val (env, form) = frame.phone.device.env() to screen.form.form
            bring(saves = true) {
                it.groupSet(env, row.id, form)
                thenRead { it.group(frame.phone.device.env()) }
            }
        }
        button.minHeight = look.dp(Look.Touch.WIDE)
        button.contentDescription = row.spoken
        if (row.undoSet.isNotEmpty()) button.holds(row.undo) { undo(row) }
        if (row.against.isEmpty()) return button
        return parts.column().apply {
            addView(button, parts.below(0))
            val against = parts.caution(row.against)
            against.importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO_HIDE_DESCENDANTS
            addView(against, parts.below(4))
        }
    }

    /** Takes a set back, the one that was shown, once. */
    private fun undo(row: GroupRow) {
        val asked = filled.form
        act({
            it.undoGroupSet(frame.phone.device.env(), row.undoSet, row.undoSeen)
            it.group(frame.phone.device.env())
        }) { redraw(draw(it.with(filled.answered(asked, it.form)))) }
    }

    private fun foot(page: Parts.Page, screen: Group, on: () -> Unit) {
        if (screen.on.isEmpty()) return
        page.foot.add(parts.wide(screen.on, on).apply { id = R.id.save }, look, 0)
        closeFoot(page)
    }

    private companion object {
        const val NAME = "name"
        const val ROLL = "roll"
        const val EXERCISE = "exercise"
        const val NAMES = "names"
    }
}
