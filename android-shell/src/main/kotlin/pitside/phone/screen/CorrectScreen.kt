package pitside.phone.screen

import android.content.Context
import android.view.View
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import android.os.Bundle
import uniffi.pitside_screen.Correction
import uniffi.pitside_screen.SetForm

/** A set that is put right, or taken back by holding. */
class CorrectScreen(frame: Frame, context: Context, kept: Bundle?, private val set: String) : Screen(frame, context) {
    private val exercise = ExerciseChoice(parts, labels, kept)
    private val fields = SetFields(parts, labels, ::change)
    private var seen = ""

    override fun load() = ask({ it.correction(frame.phone.device.env(), set) }) { redraw(draw(it)) }

    override fun keep(state: Bundle) = exercise.keep(state)

    private fun change(form: SetForm) = ask({
        it.keepCorrection(set, seen, form)
        it.correction(frame.phone.device.env(), set)
    }) { redraw(draw(it)) }

    private fun draw(screen: Correction): View {
        seen = screen.seen
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(screen.title))
        body.add(parts.softText(screen.about), look)
        exercise.draw(
            body, screen.form,
            redraw = { redraw(draw(screen)) },
            find = { text, found -> ask({ it.findExercises(frame.phone.device.env(), text) }, then = found) },
            choose = ::change,
        )
        fields.draw(body, screen.form, sets = false)
        val back = parts.hold(screen.takeBack, screen.takeBackSpoken) {
            ask({ it.takeSetBack(frame.phone.device.env(), set, seen) }) { frame.back() }
        }
        body.add(back.apply { id = R.id.hold }, look, Look.Space.LARGE)
        body.add(parts.softText(screen.hold), look, Look.Space.SMALL)
        val save = parts.wide(screen.save) {
            ask({ it.correctSet(frame.phone.device.env(), set, seen, screen.form.form) }) { frame.back() }
        }
        page.foot.add(save.apply { id = R.id.save }, look, 0)
        closeFoot(page)
        return page.view
    }
}
