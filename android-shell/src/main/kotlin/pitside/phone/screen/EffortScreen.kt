package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Effort
import uniffi.pitside_screen.EffortPage

/** How hard a session was: the scale, and minutes that are filled in from the sets. */
class EffortScreen(frame: Frame, context: Context, kept: Bundle?, private val session: String) : Screen(frame, context) {
    /** Tapped and not saved. */
    private var rating = kept?.getString(RATING)
    private var minutes = kept?.takeIf { it.containsKey(MINUTES) }?.getInt(MINUTES)

    override fun load() = ask({ it.effort(frame.phone.device.env(), session) }) { redraw(draw(it)) }

    override fun keep(state: Bundle) {
        rating?.let { state.putString(RATING, it) }
        minutes?.let { state.putInt(MINUTES, it) }
    }

    private fun draw(screen: EffortPage): View {
        val page = parts.page()
        val body = page.body
        val said = rating ?: screen.scale.firstOrNull { it.chosen }?.id
        val long = minutes ?: screen.minutes?.toInt()
        body.addView(parts.title(screen.title))
        body.add(parts.text(screen.about), look)
        val scale = screen.scale.map { step ->
            parts.choice(step.text, step.id == said) {
                rating = step.id
                redraw(draw(screen))
            }
        }
        body.add(parts.choices(scale), look)
        val stepper = parts.stepper(screen.minutesLabel, long?.toString() ?: screen.notSaid, labels.less, labels.more) { step ->
            // To the next five: nobody knows it to the minute.
            val next = if (step > 0) ((long ?: 25) / 5 + 1) * 5 else ((long ?: 35) - 1) / 5 * 5
            minutes = next.coerceIn(5, 600)
            redraw(draw(screen))
        }
        body.add(stepper, look)
        body.add(parts.softText(screen.minutesSource), look, Look.Space.SMALL)
        body.add(parts.softText(screen.asked), look)
        val reminds = parts.choice(screen.remind, screen.reminds, several = true) { remind(!screen.reminds) }
        body.add(reminds, look)
        body.add(parts.softText(screen.remindAbout), look, Look.Space.SMALL)
        if (said != null && long != null) {
            val save = parts.wide(screen.save) {
                val effort = Effort(said.toUShort(), long.toUShort())
                act({ it.setEffort(frame.phone.device.env(), session, effort) }) { frame.back() }
            }
            page.foot.add(save.apply { id = R.id.save }, look, 0)
            closeFoot(page)
        }
        return page.view
    }

    /** Asks the system only now: whoever wants no reminder is asked nothing. */
    private fun remind(on: Boolean) {
        if (on) frame.askToNotify()
        ask({
            it.remindOfEffort(on)
            it.effort(frame.phone.device.env(), session)
        }) { redraw(draw(it)) }
    }

    private companion object {
        const val RATING = "rating"
        const val MINUTES = "minutes"
    }
}
