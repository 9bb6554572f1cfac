package pitside.phone.screen

import android.content.Context
import android.view.View
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.Wish
import uniffi.pitside_screen.Wishes

/** What the coach asks this phone to erase. Its person decides: keeping is a tap, agreeing has to be held. */
class WishesScreen(frame: Frame, context: Context) : Screen(frame, context) {
    private val env get() = frame.phone.device.env()

    override fun load() = ask({ it.wishes(env) }) { redraw(draw(it)) }

    private fun keep(wish: Wish) = act({
        it.keepWhatIsHere(wish.member)
        it.wishes(env)
    }) { redraw(draw(it)) }

    /** What was to be reminded of may be gone with it. */
    private fun agree(wish: Wish) = act({
        it.agreeToErase(env, wish.member)
        it.today(env).reminder to it.wishes(env)
    }, always = { (reminder, _) -> frame.phone.reminders.set(reminder) }) { (_, wishes) -> redraw(draw(wishes)) }

    private fun draw(wishes: Wishes): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(wishes.title))
        if (wishes.none.isNotEmpty()) body.add(parts.text(wishes.none), look)
        for (wish in wishes.wishes) wish(body, wish)
        page.foot.add(parts.plain(labels.back) { frame.back() }, look, Look.Space.SMALL)
        closeFoot(page)
        return page.view
    }

    private fun wish(body: LinearLayout, wish: Wish) {
        body.add(parts.heading(wish.title), look, Look.Space.LARGE)
        for (means in wish.means) body.add(parts.text(means), look, Look.Space.SMALL)
        if (wish.answered.isNotEmpty()) body.add(parts.barred(parts.text(wish.answered)), look)
        // What changes nothing comes first.
        for (action in wish.actions.sortedBy { it.id == "agree" }) {
            val spoken = "${action.text}: ${wish.title}"
            when (action.id) {
                "keep" -> body.add(parts.broad(action.text) { keep(wish) }.apply { contentDescription = spoken; id = R.id.save }, look)
                "agree" -> {
                    body.add(parts.softText(frame.phone.headings().hold), look, Look.Space.LARGE)
                    body.add(parts.hold(action.text, spoken) { agree(wish) }.apply { id = R.id.hold }, look, 4)
                }
            }
        }
    }
}
