package pitside.phone.screen

import android.content.Context
import android.view.View
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.CheckIn
import uniffi.pitside_screen.CheckInDraft
import uniffi.pitside_screen.CheckInForm
import uniffi.pitside_screen.HurtForm

/** One question; the rest unfolds on yes. */
class CheckInScreen(frame: Frame, context: Context) : Screen(frame, context) {
    /** Tapped and not saved; `null` until the first tap. The core keeps it at each. */
    private var draft: CheckInDraft? = null

    override fun load() = ask({ it.checkInForm(frame.phone.device.env(), "") }) { screen ->
        // What was tapped since it was asked stays.
        draft = draft ?: screen.draft
        redraw(draw(screen))
    }

    /** Another one answers: what was tapped for the first is not theirs. */
    private fun answers(athlete: String) = ask({
        it.writeFor(athlete)
        it.checkInForm(frame.phone.device.env(), "")
    }) {
        draft = it.draft
        redraw(draw(it))
    }

    private fun change(screen: CheckIn, hurting: Boolean?, form: CheckInForm) {
        val next = CheckInDraft(hurting, form)
        draft = next
        redraw(draw(screen))
        val (env, member) = frame.phone.device.env() to whose(screen)
        ask({ it.keepCheckIn(env, member, next) }) {}
    }

    /** Who answers; empty where this phone serves one alone. */
    private fun whose(screen: CheckIn): String = screen.athletes.firstOrNull { it.chosen }?.id.orEmpty()

    private fun draw(screen: CheckIn): View {
        val now = draft?.form ?: screen.form
        val yes = draft?.hurting ?: (now.hurts.isNotEmpty() || now.signs.isNotEmpty()).takeIf { it }
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(screen.title))
        if (screen.athletes.isNotEmpty()) {
            val names = screen.athletes.map { athlete -> parts.choice(athlete.text, athlete.chosen) { answers(athlete.id) } }
            body.add(parts.choices(names), look)
            // Of two who share a phone neither is taken for the other.
            if (screen.athletes.none { it.chosen }) return page.view
        }
        body.add(parts.text(labels.hurting), look)
        val answers = listOf(
            parts.choice(labels.no, yes == false) { change(screen, false, now.copy(hurts = emptyList(), signs = emptyList())) },
            parts.choice(labels.yes, yes == true) { change(screen, true, now) },
        )
        answers.forEach { it.minWidth = look.dp(112) }
        body.add(parts.choices(answers), look, Look.Space.SMALL)
        if (yes == true) {
            hurts(body, screen, now)
            signs(body, screen, now)
        }
        body.add(night(screen, now), look, Look.Space.LARGE)
        body.add(parts.softText(screen.shared), look)
        body.add(parts.caution(screen.caution), look)
        // Not asked is not the same as nothing hurts, and no score is not a low one.
        if (yes == false || (now.hurts.isNotEmpty() || now.signs.isNotEmpty()) && now.hurts.none { it.score == NOT_SAID }) {
            page.foot.add(parts.wide(labels.saveCheckIn) { save(screen, now) }.apply { id = R.id.save }, look, 0)
            closeFoot(page)
        }
        return page.view
    }

    /** Saves it; where something follows from it, that is shown before the screen is left. */
    private fun save(screen: CheckIn, form: CheckInForm) {
        // As it is now, also where it is tried once more, later and perhaps for another athlete.
        val (env, member) = frame.phone.device.env() to whose(screen)
        act({
            it.checkIn(env, member, form)
            it.checkInForm(env, member)
        }) { if (it.end.isEmpty() && it.said.isEmpty()) frame.back() else show(follows(it)) }
    }

    private fun follows(screen: CheckIn): View {
        val page = parts.page()
        page.body.addView(parts.title(screen.title))
        if (screen.end.isNotEmpty()) page.body.add(parts.text(screen.end), look)
        for (said in screen.said) page.body.add(said(said), look, Look.Space.LARGE)
        page.body.add(parts.caution(screen.caution), look, Look.Space.LARGE)
        page.foot.add(parts.wide(labels.back) { frame.back() }, look, 0)
        closeFoot(page)
        return page.view
    }

    /** What is to be seen by a practitioner at any score. */
    private fun signs(body: LinearLayout, screen: CheckIn, now: CheckInForm) {
        body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.LARGE) })
        body.add(parts.text(screen.signsAbout), look)
        for (sign in screen.signs) {
            val told = sign.id in now.signs
            val to = { yes: Boolean -> change(screen, draft?.hurting, now.copy(signs = if (yes) now.signs + sign.id else now.signs - sign.id)) }
            body.add(parts.choice(sign.text, told, several = true) { to(!told) }, look, Look.Space.SMALL)
        }
    }

    private fun hurts(body: LinearLayout, screen: CheckIn, now: CheckInForm) {
        body.add(parts.label(labels.where), look)
        val places = screen.parts.map { part ->
            val chosen = now.hurts.any { it.part == part.id }
            parts.choice(part.text, chosen, several = true) {
                val others = now.hurts.filter { it.part != part.id }
                change(screen, draft?.hurting, now.copy(hurts = if (chosen) others else others + HurtForm(part.id, "", NOT_SAID)))
            }
        }
        body.add(parts.choices(places), look, 4)
        for (hurt in now.hurts) {
            val with = { next: HurtForm -> change(screen, draft?.hurting, now.copy(hurts = now.hurts.map { if (it == hurt) next else it })) }
            val place = screen.parts.firstOrNull { it.id == hurt.part }?.text ?: hurt.part
            body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.LARGE) })
            body.add(parts.text(place), look)
            body.add(parts.label(labels.side), look, Look.Space.SMALL)
            val sides = screen.sides.map { side ->
                parts.choice(side.text, hurt.side == side.id) { with(hurt.copy(side = if (hurt.side == side.id) "" else side.id)) }
                    .apply { contentDescription = "$place, ${side.text}" }
            }
            body.add(parts.choices(sides), look, 4)
            val score = hurt.score.takeIf { it != NOT_SAID }?.toInt()
            val label = "${labels.score}, $place"
            body.add(
                parts.stepper(label, score?.toString() ?: labels.notSaid, labels.less, labels.more) {
                    with(hurt.copy(score = ((score ?: 0) + it).coerceIn(0, 10).toUByte()))
                },
                look,
            )
            body.add(parts.softText(screen.score), look, Look.Space.SMALL)
        }
    }

    private fun night(screen: CheckIn, now: CheckInForm): View {
        val nights = labels.nights
        val at = now.sleepMin?.let { slept -> nights.indexOfLast { it.id.toInt() <= slept.toInt() } }
        val value = at?.let(nights::getOrNull)?.text ?: labels.notSaid
        return parts.stepper(labels.sleep, value, labels.less, labels.more) { step ->
            // Begun in the middle, so that few taps are needed.
            val next = at?.plus(step) ?: nights.indexOfFirst { it.id == "480" }
            change(screen, draft?.hurting, now.copy(sleepMin = nights[next.coerceIn(nights.indices)].id.toUShort()))
        }
    }

    private companion object {
        /** Stands for a score that was not given; it is kept in a draft and never saved. */
        val NOT_SAID: UByte = UByte.MAX_VALUE
    }
}
