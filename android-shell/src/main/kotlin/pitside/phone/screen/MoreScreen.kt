package pitside.phone.screen

import android.content.Context
import android.view.View
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.More

/** What the phone leads to beside its first screens. */
class MoreScreen(frame: Frame, context: Context) : Screen(frame, context) {
    override fun load() = ask({ it.more(frame.phone.device.env()) }) { show(draw(it)) }

    private fun draw(more: More): View {
        val page = parts.page()
        page.body.addView(parts.title(more.title))
        notices(page.body, more.notices)
        for (link in more.links.filter { frame.draws(it.route) }) {
            page.body.add(parts.plain(link.text) { frame.open(link.route) }, look)
        }
        // In the sun nobody finds the way through the settings.
        val sun = parts.choice(more.sun.text, more.sun.on, several = true) {
            ask({ it.choose(more.sun.setting, more.sun.choice) }, always = frame::chosen) {}
        }
        page.body.add(sun, look, Look.Space.LARGE)
        return page.view
    }
}
