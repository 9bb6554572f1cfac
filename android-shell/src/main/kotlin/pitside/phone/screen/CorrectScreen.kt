package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Correction
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.SetForm

/** A set that is put right, or taken back by holding. */
class CorrectScreen(frame: Frame, context: Context, kept: Bundle?, private val set: String) : Screen(frame, context) {
    private val exercise = ExerciseChoice(parts, labels, kept)
    private val fields = SetFields(parts, labels, ::change)
    private var seen = ""

    private val filled = Filled<SetForm>()

    override fun load() = bring { it.correction(frame.phone.device.env(), set) }

    override fun keep(state: Bundle) = exercise.keep(state)

    private fun change(edit: (SetForm) -> SetForm) {
        val form = filled.change(edit)
        bring {
            it.keepCorrection(set, seen, form)
            it.correction(frame.phone.device.env(), set)
        }
    }

    private fun bring(call: (PitsideInterface) -> Correction) {
        val asked = filled.form
        ask(call) { redraw(draw(it.with(filled.answered(asked, it.form.form)))) }
    }

    private fun Correction.with(form: SetForm) = copy(form = this.form.copy(form = form))

    private fun draw(screen: Correction): View {
        seen = screen.seen
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(screen.title))
        body.add(parts.softText(screen.about), look)
        exercise.draw(
            body, screen.form,
            redraw = { redraw(draw(screen.with(filled.form ?: screen.form.form))) },
            find = { text, found -> ask({ it.findExercises(frame.phone.device.env(), text) }, then = found) },
            choose = ::change,
        )
        fields.draw(body, screen.form, sets = false)
        val back = parts.hold(screen.takeBack, screen.takeBackSpoken) {
            act({ it.takeSetBack(frame.phone.device.env(), set, seen) }) { frame.back() }
        }
        body.add(back.apply { id = R.id.hold }, look, Look.Space.LARGE)
        body.add(parts.softText(screen.hold), look, Look.Space.SMALL)
        val save = parts.wide(screen.save) {
            val form = filled.form ?: screen.form.form
            act({ it.correctSet(frame.phone.device.env(), set, seen, form) }) { frame.back() }
        }
        page.foot.add(save.apply { id = R.id.save }, look, 0)
        closeFoot(page)
        return page.view
    }
}
