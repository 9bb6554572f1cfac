package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.look.leading
import uniffi.pitside_screen.Action
import uniffi.pitside_screen.DeviceRow
import uniffi.pitside_screen.Devices
import uniffi.pitside_screen.MemberRow
import uniffi.pitside_screen.PitsideInterface

/** What is done at once, by the id of its action. */
private typealias Call = (PitsideInterface) -> Unit

/**
 * Whose devices there are, when they were met and what each has of this one; on a coach's phone what can be
 * done about a lost one, and about a member. What changes the squad is held, or asks on a screen of its own.
 */
class DevicesScreen(frame: Frame, context: Context, kept: Bundle?) : Folding<Devices>(frame, context, kept) {
    private val env get() = frame.phone.device.env()

    override fun fetch(core: PitsideInterface): Devices = core.devices(env)

    override fun draw(record: Devices): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(record.title))
        notices(body, record.notices, here = ROUTE)
        body.add(parts.text(record.note), look)
        for (device in record.devices) device(body, device)
        for (link in record.links.filter { frame.draws(it.route) }) body.add(parts.plain(link.text) { frame.open(link.route) }, look)
        if (record.members.isNotEmpty()) fold(body, "members", headings.members) { within -> record.members.forEach { member(within, it) } }
        // Roles are there where this device may give them.
        if (record.roles.isNotEmpty()) body.add(parts.softText(headings.atTheDesk), look, Look.Space.LARGE)
        return page.view
    }

    private fun device(body: LinearLayout, device: DeviceRow) {
        val lines = listOf(parts.text(device.title), parts.softText(device.key), parts.text(device.removed)) +
            (device.given + device.since + device.met + device.has + device.clock).map(parts::softText)
        body.add(parts.row(lines, device.spoken), look, Look.Space.SMALL)
        val calls = mapOf<String, Call>("take-in" to { it.takeIn(env, device.id) }, "readmit" to { it.readmitDevice(env, device.id) })
        actions(body, device.actions, "${device.title}, ${device.key}", calls)
        body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.SMALL) })
    }

    private fun member(body: LinearLayout, member: MemberRow) {
        val row = parts.row(listOf(parts.text(member.name), parts.softText(member.standing)), member.spoken)
        val leads = member.route.isNotEmpty() && frame.draws(member.route)
        body.add(if (leads) parts.leading(row) { frame.open(member.route) } else row, look, Look.Space.SMALL)
        val calls = mapOf<String, Call>("come-back" to { it.comeBack(env, member.id) }, "two-persons" to { it.twoPersons(env, member.id) })
        actions(body, member.actions, member.name, calls)
    }

    /** The ways to screens that ask first, then what is done at once, to be held; what this phone does not do is left out. */
    private fun actions(body: LinearLayout, actions: List<Action>, about: String, calls: Map<String, Call>) {
        val asking = actions.filter { it.route.isNotEmpty() && frame.draws(it.route) }.map { action ->
            parts.plain(action.text) { frame.open(action.route) }.apply { contentDescription = "${action.text}: $about" }
        }
        if (asking.isNotEmpty()) body.add(parts.choices(asking), look, Look.Space.SMALL)
        val held = actions.mapNotNull { action -> calls[action.id]?.let { action to it } }
        for ((action, call) in held) {
            val bar = parts.hold(action.text, "${action.text}: $about") {
                act({
                    call(it)
                    fetch(it)
                }) { drawn(it) }
            }
            body.add(bar, look, Look.Space.SMALL)
        }
        if (held.isNotEmpty()) body.add(parts.softText(headings.hold), look, 4)
    }

    companion object {
        const val ROUTE = "devices"
    }
}
