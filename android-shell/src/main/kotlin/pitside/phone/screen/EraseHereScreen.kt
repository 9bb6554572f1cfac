package pitside.phone.screen

import android.content.Context
import android.view.View
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Confirm

/** Asks before everything on this phone is erased. */
class EraseHereScreen(frame: Frame, context: Context) : Screen(frame, context) {
    override fun load() = ask({ it.confirmEraseHere(frame.phone.device.env()) }) { redraw(draw(it)) }

    private fun draw(confirm: Confirm): View {
        val page = parts.page()
        val body = page.body
        val headings = frame.phone.headings()
        body.addView(parts.title(confirm.title))
        for (means in confirm.means) body.add(parts.text(means), look)
        body.add(parts.label(headings.notReached), look, Look.Space.LARGE)
        for (line in confirm.notReached + confirm.files) body.add(parts.text(line), look, 4)
        body.add(parts.softText(headings.hold), look, Look.Space.LARGE)
        page.foot.add(parts.plain(confirm.no.text) { frame.back() }, look, Look.Space.SMALL)
        page.foot.add(parts.hold(confirm.yes, confirm.yes) { frame.phone.erase() }.apply { id = R.id.erase }, look, Look.Space.SMALL)
        closeFoot(page)
        return page.view
    }
}
