package pitside.phone.screen

import android.content.Context
import android.content.Intent
import android.net.Uri
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.take.ClipRead
import uniffi.pitside_screen.ChosenClip
import uniffi.pitside_screen.ClipRow
import uniffi.pitside_screen.TakeRow
import uniffi.pitside_screen.Takes

/** Clips that wait to be marked, clips whose times are kept, and the newest times. */
class TakesScreen(frame: Frame, context: Context, kept: Bundle?) : Working<ClipRead>(frame, context, frame.phone.reading) {
    private val clips get() = frame.phone.clips

    /** The takes whose details are shown. */
    private val unfolded = HashSet(kept?.getStringArrayList(UNFOLDED).orEmpty())

    override fun load() = when (val end = seen()) {
        null -> list()
        // What came onto the list while nobody watched stands there.
        else -> if (end.chosen?.route.isNullOrEmpty() && end.choosing) tell(end) else list()
    }

    private fun list() = ask({ it.takes(env) }) { redraw(draw(it)) }

    override fun keep(state: Bundle) = state.putStringArrayList(UNFOLDED, ArrayList(unfolded))

    override fun answered(data: Intent) {
        data.data?.let { choose(it, false) }
    }

    private fun choose(place: Uri, anyway: Boolean) {
        val phone = frame.phone
        work.follow { _, job -> ClipRead.choosing(phone, place, anyway, job) }
        list()
    }

    override fun workEnded() {
        val end = seen() ?: return
        if (end.choosing) tell(end) else list()
    }

    /** How the last reading ended, where nobody has seen it yet. */
    private fun seen(): ClipRead? = work.end?.also { work.seen() }

    private fun tell(end: ClipRead) {
        val (place, chosen) = end.place to end.chosen
        when {
            // What is no clip is none a second time: the list offers to choose another.
            end.why != null -> failed(end.why, ::list)
            place == null || chosen == null -> list()
            chosen.route.isEmpty() -> show(against(chosen, place))
            else -> frame.open(chosen.route)
        }
    }

    /** Why a clip should not be taken. */
    private fun against(chosen: ChosenClip, place: Uri): View {
        val page = parts.page()
        page.body.addView(parts.title(chosen.title))
        chosen.against.forEachIndexed { at, why -> page.body.add(if (at == 0) parts.text(why) else parts.softText(why), look) }
        page.body.add(parts.caution(chosen.instead), look, Look.Space.LARGE)
        page.foot.add(parts.wide(chosen.another) { leaveOut(place) { frame.ask(clips.picker()) } }, look, 0)
        page.foot.add(parts.plain(chosen.anyway) { choose(place, true) }, look, Look.Space.SMALL)
        page.foot.add(parts.plain(labels.back) { leaveOut(place, ::load) }, look, Look.Space.SMALL)
        closeFoot(page)
        return page.view
    }

    /** A clip that is not taken is not read again either, unless it is on the list already. */
    private fun leaveOut(place: Uri, then: () -> Unit) = ask({
        val listed = it.takes(env)
        if ((listed.later + listed.done).none { row -> row.place == place.toString() }) clips.letGo(place.toString())
    }) { then() }

    private fun draw(takes: Takes, said: String = ""): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(takes.title))
        if (said.isNotEmpty()) {
            body.add(parts.caution(said).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }, look)
        }
        nothingGoesOn()
        work.job?.let { goesOn(page, it, takes.cancel) } ?: page.foot.add(parts.wide(takes.choose) { frame.ask(clips.picker()) }, look, 0)
        clips(body, takes, takes.laterTitle, takes.later)
        clips(body, takes, takes.doneTitle, takes.done)
        body.add(parts.label(takes.takesTitle), look, Look.Space.LARGE)
        if (takes.empty.isNotEmpty()) body.add(parts.text(takes.empty), look, Look.Space.SMALL)
        for (take in takes.takes) take(body, takes, take)
        body.add(parts.softText(takes.about), look, Look.Space.LARGE)
        closeFoot(page)
        return page.view
    }

    private fun clips(body: LinearLayout, takes: Takes, title: String, rows: List<ClipRow>) {
        if (rows.isEmpty()) return
        body.add(parts.label(title), look, Look.Space.LARGE)
        for (row in rows) {
            if (row.route.isEmpty()) {
                body.add(parts.row(listOf(parts.text(row.name), parts.softText(row.text)), row.spoken), look, 0)
                body.add(parts.hold(row.holdDelete, row.delete) { delete(takes, row) }, look, 0)
                body.add(parts.plain(row.drop) { drop(row) }, look, Look.Space.SMALL)
            } else {
                body.add(parts.plain(row.name) { frame.open(row.route) }.apply { contentDescription = row.spoken }, look, Look.Space.SMALL)
                body.add(parts.softText(row.text).apply { importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO }, look, 4)
                body.add(parts.hold(row.holdDrop, row.drop) { drop(row) }, look, Look.Space.SMALL)
            }
            body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.MIDDLE) })
        }
    }

    /** Takes it off the list; the file stays, and this app no longer may read it. */
    private fun drop(row: ClipRow) = ask({
        clips.letGo(row.place)
        it.dropClip(row.id)
        it.takes(env)
    }, saves = true) { redraw(draw(it)) }

    private fun delete(takes: Takes, row: ClipRow) = ask({
        if (!clips.delete(row.place)) return@ask null
        it.dropClip(row.id)
        it.takes(env)
    }) { redraw(it?.let(::draw) ?: draw(takes, takes.notDeleted)) }

    private fun take(body: LinearLayout, takes: Takes, take: TakeRow) {
        val open = take.id in unfolded
        body.add(parts.row(listOf(parts.text(take.title), parts.text(take.line).apply { textSize = Look.Type.LARGE }), take.spoken), look, Look.Space.SMALL)
        body.add(
            parts.plain(takes.unfold) {
                if (!unfolded.remove(take.id)) unfolded += take.id
                redraw(draw(takes))
            }.apply { contentDescription = "${takes.unfold}, ${take.title}" },
            look, 0,
        )
        if (open) {
            for (time in take.times) body.add(parts.row(listOf(parts.text(time.label), parts.text(time.value), parts.softText(time.note)), time.spoken), look, 0)
            for (said in take.said) body.add(parts.text(said), look, Look.Space.SMALL)
            body.add(parts.softText(take.note), look)
        }
        body.addView(parts.rule(), parts.ruled.apply { topMargin = look.dp(Look.Space.MIDDLE) })
    }

    private companion object {
        const val UNFOLDED = "unfolded"
    }
}
