package pitside.phone.screen

import android.content.Context
import android.view.View
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Effort
import uniffi.pitside_screen.EffortDraft
import uniffi.pitside_screen.EffortPage

/** How hard a session was: the scale, and minutes that are filled in from the sets. */
class EffortScreen(frame: Frame, context: Context, private val session: String) : Screen(frame, context) {
    /** Tapped and not saved; `null` until the first tap. The core keeps it at each. */
    private var draft: EffortDraft? = null

    override fun load() = ask({ it.effort(frame.phone.device.env(), session) }) { screen ->
        // What was tapped since it was asked stays.
        draft = draft ?: screen.draft
        redraw(draw(screen))
    }

    private fun change(screen: EffortPage, edit: (EffortDraft) -> EffortDraft) {
        val next = edit(draft ?: EffortDraft(null, null))
        draft = next
        redraw(draw(screen))
        ask({ it.keepEffort(session, next) }) {}
    }

    private fun draw(screen: EffortPage): View {
        val page = parts.page()
        val body = page.body
        val said = draft?.rpeTenths?.toString() ?: screen.scale.firstOrNull { it.chosen }?.id
        val long = (draft?.minutes ?: screen.minutes)?.toInt()
        body.addView(parts.title(screen.title))
        body.add(parts.text(screen.about), look)
        val scale = screen.scale.map { step ->
            parts.choice(step.text, step.id == said) { change(screen) { it.copy(rpeTenths = step.id.toUShort()) } }
        }
        body.add(parts.choices(scale), look)
        val stepper = parts.stepper(screen.minutesLabel, long?.toString() ?: screen.notSaid, labels.less, labels.more) { step ->
            // To the next five: nobody knows it to the minute.
            val next = if (step > 0) ((long ?: 25) / 5 + 1) * 5 else ((long ?: 35) - 1) / 5 * 5
            change(screen) { it.copy(minutes = next.coerceIn(5, 600).toUShort()) }
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
                val env = frame.phone.device.env()
                act({ it.setEffort(env, session, effort) }) { frame.back() }
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
        }, saves = true) { redraw(draw(it)) }
    }
}
