package pitside.phone.screen

import android.content.Context
import android.view.View
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Confirm
import uniffi.pitside_screen.PitsideInterface

/** Asks before what cannot be simply undone: what it means, what it does not reach, and a bar that is held does it. */
abstract class ConfirmScreen(frame: Frame, context: Context) : Screen(frame, context) {
    /** The one call of the screen. */
    protected abstract fun fetch(core: PitsideInterface): Confirm

    /** Does it. */
    protected abstract fun confirmed()

    override fun load() = ask({ fetch(it) }) { redraw(draw(it)) }

    private fun draw(confirm: Confirm): View {
        val page = parts.page()
        val body = page.body
        val headings = frame.phone.headings()
        body.addView(parts.title(confirm.title))
        for (means in confirm.means) body.add(parts.text(means), look)
        body.add(parts.label(headings.notReached), look, Look.Space.LARGE)
        for (line in confirm.notReached + confirm.files) body.add(parts.text(line), look, 4)
        // The way back is where the thumb is.
        page.foot.add(parts.softText(headings.hold), look, Look.Space.SMALL)
        page.foot.add(parts.hold(confirm.yes, confirm.yes) { confirmed() }.apply { id = R.id.hold }, look, 4)
        page.foot.add(parts.plain(confirm.no.text) { frame.back() }, look, Look.Space.SMALL)
        closeFoot(page)
        return page.view
    }
}

/** Asks before everything on this phone is erased. */
class EraseHereScreen(frame: Frame, context: Context) : ConfirmScreen(frame, context) {
    override fun fetch(core: PitsideInterface): Confirm = core.confirmEraseHere(frame.phone.device.env())

    override fun confirmed() = frame.phone.erase()
}

/** Asks before a device is removed from the squad. */
class RemoveScreen(frame: Frame, context: Context, private val device: String) : ConfirmScreen(frame, context) {
    override fun fetch(core: PitsideInterface): Confirm = core.confirmRemoval(frame.phone.device.env(), device)

    override fun confirmed() = act({ it.removeDevice(frame.phone.device.env(), device) }) { frame.back() }
}

/** Asks before a member is erased. */
class EraseScreen(frame: Frame, context: Context, private val member: String) : ConfirmScreen(frame, context) {
    override fun fetch(core: PitsideInterface): Confirm = core.confirmErasure(frame.phone.device.env(), member)

    override fun confirmed() = act({ it.eraseMember(frame.phone.device.env(), member) }) { frame.back() }
}
