package pitside.phone.screen

import android.os.Bundle
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import pitside.phone.look.field
import uniffi.pitside_screen.Choice
import uniffi.pitside_screen.Labels
import uniffi.pitside_screen.LogSet
import uniffi.pitside_screen.SetForm

/**
 * Which exercise: the last few at one touch, all of them by a part of the name or by kind, each
 * kind folded until it is touched.
 */
class ExerciseChoice(private val parts: Parts, private val labels: Labels, kept: Bundle?) {
    private val look: Look = parts.look
    private var unfolded = kept?.getBoolean(UNFOLDED) ?: false
    private var kind = kept?.getString(KIND).orEmpty()
    private var typed = kept?.getString(TYPED).orEmpty()

    fun keep(state: Bundle) {
        state.putBoolean(UNFOLDED, unfolded)
        state.putString(KIND, kind)
        state.putString(TYPED, typed)
    }

    /**
     * Draws it. `redraw` draws the screen anew, `find` asks for exercises by a part of their name,
     * `choose` takes one: what that makes of what is filled in.
     */
    fun draw(
        body: LinearLayout,
        screen: LogSet,
        redraw: () -> Unit,
        find: (String, (List<Choice>) -> Unit) -> Unit,
        choose: ((SetForm) -> SetForm) -> Unit,
    ) {
        body.add(parts.label(labels.exercise), look)
        val chosen = screen.exercises.firstOrNull { it.chosen }
        val chips = screen.recent.map { recent -> parts.choice(recent.text, recent.chosen) { choose { recent.form } } }
        val other = chosen?.takeIf { screen.recent.none { recent -> recent.chosen } }
            ?.let { listOf(parts.choice(it.text, true) {}) }.orEmpty()
        val all = parts.plain(screen.all) {
            unfolded = !unfolded
            redraw()
        }
        body.add(parts.choices(other + chips + all), look, 4)
        if (!unfolded) return
        val take = { exercise: Choice ->
            unfolded = false
            typed = ""
            choose { it.copy(exercise = exercise.id, leg = "", boxMm = null, strides = null, loadG = null, cue = "") }
        }
        val found = parts.column()
        val list = { text: String ->
            typed = text
            if (text.isBlank()) {
                kinds(found, screen, redraw, take)
            } else {
                find(text) { all -> if (typed == text) show(found, all.take(MOST), take) }
            }
        }
        body.add(parts.field(screen.find, typed, list), look)
        body.add(found, look, Look.Space.SMALL)
        list(typed)
    }

    private fun kinds(into: LinearLayout, screen: LogSet, redraw: () -> Unit, take: (Choice) -> Unit) {
        into.removeAllViews()
        for ((name, exercises) in screen.exercises.groupBy { it.group }) {
            val open = name == kind
            val head = parts.plain("$name · ${exercises.size}") {
                kind = if (open) "" else name
                redraw()
            }
            into.add(head, look, Look.Space.SMALL)
            if (open) into.add(parts.choices(exercises.map { parts.choice(it.text, it.chosen) { take(it) } }), look, Look.Space.SMALL)
        }
    }

    private fun show(into: LinearLayout, exercises: List<Choice>, take: (Choice) -> Unit) {
        into.removeAllViews()
        into.add(parts.choices(exercises.map { parts.choice(it.text, it.chosen) { take(it) } }), look, 0)
    }

    private companion object {
        const val UNFOLDED = "unfolded"
        const val KIND = "kind"
        const val TYPED = "typed"

        /** Whoever sees more than these types one more letter. */
        const val MOST = 24
    }
}
