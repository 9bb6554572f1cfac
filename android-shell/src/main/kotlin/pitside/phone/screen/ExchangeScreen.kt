package pitside.phone.screen

import android.content.Context
import android.content.Intent
import android.os.Build
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.exchange.HandOver
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Action
import uniffi.pitside_screen.Exchange
import uniffi.pitside_screen.OwnClash

/** What only this phone has, where the rest is, and how it gets to the others. */
class ExchangeScreen(frame: Frame, private val context: Context, kept: Bundle?) : Watched(frame, context) {
    /** The device for a file is being chosen. */
    private var choosing = kept?.getBoolean(CHOOSING) ?: false

    /** The value of a clash that was chosen and is not confirmed. */
    private var chosen = kept?.getString(CHOSEN)

    override fun load() = ask({ it.exchange(env) }) { redraw(draw(it)) }

    override fun keep(state: Bundle) {
        state.putBoolean(CHOOSING, choosing)
        chosen?.let { state.putString(CHOSEN, it) }
    }

    private fun draw(screen: Exchange): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(screen.title))
        body.add(parts.large(screen.header), look)
        val watched = watched(page, screen.cancel, screen.close, screen.share) { load() }
        if (!watched && choosing) {
            receivers(page, screen)
            closeFoot(page)
            return page.view
        }
        body.add(parts.softText(screen.squad), look, Look.Space.SMALL)
        for (notice in screen.notices) {
            body.add(if (frame.draws(notice.route)) parts.plain(notice.text) { frame.open(notice.route) } else parts.caution(notice.text), look)
        }
        screen.clashes.forEach { clash(body, screen, it) }
        if (!watched) actions(page, screen)
        sessions(body, screen)
        before(body, screen)
        devices(body, screen)
        body.add(parts.softText(screen.note), look, Look.Space.LARGE)
        closeFoot(page)
        return page.view
    }

    /** The main thing to do stays in reach of the thumb. */
    private fun actions(page: Parts.Page, screen: Exchange) {
        if (screen.actions.any { it.id == SYNC } && frame.phone.outside.power.isLow()) page.body.add(parts.caution(screen.lowBattery), look)
        for ((at, action) in screen.actions.withIndex()) {
            val act = { act(action) }
            if (at == 0) {
                page.foot.add(parts.wide(action.text, act), look, Look.Space.SMALL)
            } else {
                page.body.add(parts.plain(action.text, act), look, if (at == 1) Look.Space.LARGE else Look.Space.SMALL)
            }
        }
    }

    private fun act(action: Action) {
        when (action.id) {
            SYNC -> sync()
            "hand-over" -> {
                choosing = true
                load()
            }
            "take-in" -> frame.ask(Intent(Intent.ACTION_OPEN_DOCUMENT).addCategory(Intent.CATEGORY_OPENABLE).setType("*/*"))
            else -> if (frame.draws(action.route)) frame.open(action.route)
        }
    }

    /** Asks first for what the system has not been asked yet; a sync goes on without the notice, too. */
    private fun sync() = frame.permit(
        buildList {
            if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) add(android.Manifest.permission.POST_NOTIFICATIONS)
            addAll(localNetwork())
        },
        SYNC_CODE,
    )

    override fun permitted(code: Int, granted: Boolean) {
        if (code != SYNC_CODE) return
        val phone = frame.phone
        work.begin { core, job ->
            val end = core.syncNow(phone.device.env(), emptyList(), job)
            if (!end.lookNearby) return@begin end
            // It is not where it was last: the network is asked where it is now.
            val found = phone.outside.nearby.look(NEARBY_MS) { job.progress().cancelled }
            if (found.isEmpty() && !job.progress().cancelled) end else core.syncNow(phone.device.env(), found, job)
        }
        load()
    }

    override fun answered(data: Intent) {
        val document = data.data ?: return
        work.follow(HandOver.takeIn(frame.phone, document, frame.phone.device::env))
        load()
    }

    private fun receivers(page: Parts.Page, screen: Exchange) {
        val body = page.body
        body.add(parts.text(if (screen.devices.isEmpty()) screen.noReceivers else screen.receiversTitle), look, Look.Space.LARGE)
        for (device in screen.devices) {
            val button = parts.plain("${device.title}\n${device.key}") {
                choosing = false
                val folder = HandOver.cleared(context, env.nowMs).path
                work.begin { core, job -> core.handOver(frame.phone.device.env(), device.id, folder, job) }
                load()
            }
            body.add(button.apply { contentDescription = device.spoken }, look, Look.Space.SMALL)
        }
        body.add(parts.softText(screen.receiversNote), look)
        page.foot.add(parts.plain(screen.cancel) { choosing = false; load() }, look, Look.Space.SMALL)
    }

    /** Both values, and one more touch before one of them is kept. */
    private fun clash(body: LinearLayout, screen: Exchange, clash: OwnClash) {
        body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.LARGE) })
        body.add(parts.text(clash.title), look)
        for (value in clash.values) {
            val text = "${value.text}\n${value.written}"
            if (!clash.canSettle) {
                body.add(parts.row(listOf(parts.text(value.text), parts.softText(value.written)), text), look, 0)
                continue
            }
            val button = parts.choice(text, value.choice == chosen) {
                chosen = value.choice.takeIf { it != chosen }
                redraw(draw(screen))
            }
            body.add(button.apply { contentDescription = "${value.text}, ${value.written}" }, look, Look.Space.SMALL)
        }
        body.add(parts.softText(if (clash.canSettle) clash.note else clash.settledBy), look, Look.Space.SMALL)
        val keep = clash.values.firstOrNull { it.choice == chosen } ?: return
        if (clash.canSettle) body.add(parts.wide(keep.keep) { settle(clash.member, keep.choice) }, look)
    }

    private fun settle(member: String, choice: String) {
        chosen = null
        ask({
            it.settle(env, member, choice)
            it.exchange(env)
        }, saves = true) { redraw(draw(it)) }
    }

    private fun sessions(body: LinearLayout, screen: Exchange) {
        body.add(parts.label(screen.sessionsTitle), look, Look.Space.LARGE)
        for (session in screen.sessions) {
            val kept = if (session.state == HERE) parts.text(session.kept) else parts.softText(session.kept)
            body.add(parts.row(listOf(parts.text(session.text), kept), session.spoken), look, 0)
            body.addView(parts.rule(), parts.ruled)
        }
        if (screen.sessionsNote.isNotEmpty()) body.add(parts.softText(screen.sessionsNote), look, Look.Space.SMALL)
    }

    private fun before(body: LinearLayout, screen: Exchange) {
        body.add(parts.label(screen.beforeTitle), look, Look.Space.LARGE)
        val said = parts.column()
        for (sentence in screen.before) said.add(parts.text(sentence), look, if (said.childCount == 0) 0 else Look.Space.SMALL)
        body.add(if (screen.wouldLose) parts.barred(said) else said, look, Look.Space.SMALL)
        body.add(parts.softText(screen.newPhone), look, Look.Space.SMALL)
    }

    private fun devices(body: LinearLayout, screen: Exchange) {
        if (screen.devices.isEmpty()) return
        body.add(parts.label(screen.devicesTitle), look, Look.Space.LARGE)
        for (device in screen.devices) {
            val lines = listOf(parts.text(device.title), parts.softText("${device.key} · ${device.met}"))
            body.add(parts.row(lines, device.spoken), look, 0)
            body.addView(parts.rule(), parts.ruled)
        }
    }

    private companion object {
        const val CHOOSING = "choosing"
        const val CHOSEN = "chosen"
        const val SYNC = "sync"
        const val HERE = "here"
        const val SYNC_CODE = 1
        const val NEARBY_MS = 5_000L
    }
}
