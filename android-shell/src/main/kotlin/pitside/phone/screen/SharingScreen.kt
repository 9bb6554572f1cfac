package pitside.phone.screen

import android.content.Context
import android.view.View
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Sharing

/** Who sees what hurts; each audience for itself. */
class SharingScreen(frame: Frame, context: Context, private val member: String) : Screen(frame, context) {
    override fun load() = ask({ it.sharing(frame.phone.device.env(), member) }) { redraw(draw(it)) }

    private fun give(to: String, given: Boolean) = ask({
        it.shareWith(frame.phone.device.env(), member, to, given)
        it.sharing(frame.phone.device.env(), member)
    }, saves = true) { redraw(draw(it)) }

    private fun draw(sharing: Sharing): View {
        val page = parts.page()
        val body = page.body
        val headings = frame.phone.headings()
        body.addView(parts.title(sharing.title))
        body.add(parts.text(sharing.about), look)
        for (row in sharing.rows) {
            body.add(parts.row(listOf(parts.text(row.text), parts.softText(row.state)), row.spoken), look, Look.Space.SMALL)
            if (sharing.mayChange) {
                val text = if (row.given) headings.stopSharing else headings.share
                body.add(parts.plain(text) { give(row.id, !row.given) }.apply { contentDescription = "$text: ${row.text}" }, look, 0)
            }
        }
        if (sharing.whoMay.isNotEmpty()) body.add(parts.softText(sharing.whoMay), look)
        body.add(parts.softText(sharing.withdrawing), look)
        return page.view
    }
}
