package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.PlanRow
import uniffi.pitside_screen.Plans

/** What is planned for an athlete: the next session stands open, the others unfold. Plans are written on the laptop. */
class PlansScreen(frame: Frame, context: Context, private val member: String, kept: Bundle?) : Folding<Plans>(frame, context, kept) {
    override fun fetch(core: PitsideInterface): Plans = core.plans(frame.phone.device.env(), member)

    override fun draw(record: Plans): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(record.title))
        if (record.none.isNotEmpty()) body.add(parts.text(record.none), look)
        record.coming.firstOrNull()?.let { next ->
            body.add(parts.heading(titled(next)), look, Look.Space.LARGE)
            plan(body, next)
        }
        for (plan in record.coming.drop(1)) fold(body, plan.id, titled(plan)) { within -> plan(within, plan) }
        if (record.earlier.isNotEmpty()) {
            fold(body, EARLIER, headings.earlierPlans, Look.Space.LARGE) { within ->
                for (plan in record.earlier) fold(within, plan.id, titled(plan), Look.Space.SMALL) { inside -> plan(inside, plan) }
            }
        }
        body.add(parts.softText(record.about), look, Look.Space.LARGE)
        return page.view
    }

    private fun titled(plan: PlanRow) = "${plan.day}: ${plan.purpose}"

    private fun plan(body: LinearLayout, plan: PlanRow) {
        val lines = listOf(parts.softText(plan.progress), parts.text(plan.note)) + plan.rows.map(parts::text)
        body.add(parts.row(lines, plan.spoken), look, 0)
        if (plan.clash.isNotEmpty()) body.add(parts.caution(plan.clash), look, Look.Space.SMALL)
    }

    private companion object {
        const val EARLIER = "earlier"
    }
}
