package pitside.phone.screen

import android.content.Context
import android.content.res.Configuration
import android.net.Uri
import android.os.Bundle
import android.view.View
import android.view.ViewGroup.LayoutParams.MATCH_PARENT
import android.view.ViewGroup.LayoutParams.WRAP_CONTENT
import android.widget.FrameLayout
import android.widget.LinearLayout
import android.widget.ScrollView
import java.io.FileNotFoundException
import pitside.phone.Answer
import pitside.phone.R
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.take.Area
import pitside.phone.take.ClipRead
import pitside.phone.take.Crops
import pitside.phone.take.Frames
import pitside.phone.take.PinBox
import pitside.phone.take.ThumbStrip
import uniffi.pitside_screen.ClipFound
import uniffi.pitside_screen.ClipShows
import uniffi.pitside_screen.MarkPage
import uniffi.pitside_screen.Marking
import uniffi.pitside_screen.OpenClip
import uniffi.pitside_screen.Tap

/**
 * A clip is marked: three pictures of the foot and the gaps between them, a strip to step with, and
 * in one line what it comes to. Every tap is one call, which keeps it and says where to look next.
 */
class MarkScreen(frame: Frame, private val context: Context, private val id: String, kept: Bundle?) :
    Working<ClipRead>(frame, context, frame.phone.reading) {
    private class Open(val place: String, val clip: OpenClip, val page: MarkPage)

    private var open: Open? = null

    /** `null` while nobody looks: other apps need decoders, too. */
    private var frames: Frames? = null
    private lateinit var marking: Marking

    /** The frame in the middle; `null` for the one that the core kept. */
    private var at: Int? = kept?.takeIf { it.containsKey(AT) }?.getInt(AT)
    private var unfolded = kept?.getBoolean(UNFOLDED) ?: false
    private var choosing = kept?.getBoolean(CHOOSING) ?: false
    private var pinning = kept?.getBoolean(PINNING) ?: false
    private var leftHand = false

    /** Whether the last step went back: pictures are then decoded that way first. */
    private var back = false

    /** A tap is on its way: another one would be of what is no longer shown. */
    private var underWay = false

    /** The phone lies on its side. */
    private val wide = context.resources.configuration.orientation == Configuration.ORIENTATION_LANDSCAPE

    private var crops: Crops? = null
    private var pin: PinBox? = null
    private var strip: ThumbStrip? = null
    private var head: LinearLayout? = null
    private var rest: LinearLayout? = null
    private var foot: LinearLayout? = null

    /** Where the clip is, as the core kept it; `null` until it said so. */
    private var found: ClipFound? = null

    override fun load() = ask({ core ->
        val found = core.clipFile(env, id)
        val clip = frame.phone.clips.known(found.file.place)
        found to clip?.let { Open(found.file.place, it, core.marking(env, it)) }
    }) { (found, open) ->
        this.found = found
        if (open == null) read(found) else begin(open)
    }

    /** After the process died, or where another clip was read since, it is read once more. */
    private fun read(found: ClipFound) {
        val phone = frame.phone
        val place = Uri.parse(found.file.place)
        // Another one that is read comes to its end first, and is not called off from here.
        val own = work.begin { _, job -> ClipRead.again(phone, place, job) }
        val page = parts.page()
        page.body.addView(parts.title(found.file.name))
        work.job?.let { goesOn(page, it, found.cancel, own) { frame.back() } }
        closeFoot(page)
        show(page.view)
    }

    override fun workEnded() {
        val end = work.end ?: return
        if (open != null) return
        // What came of a clip that was chosen is told on the list, unless it is on it.
        if (end.choosing && end.chosen?.route.isNullOrEmpty()) return frame.back()
        work.seen()
        val found = found
        val why = end.why.takeIf { end.place?.toString() == found?.file?.place }
        when {
            why == null || found == null -> load()
            why is FileNotFoundException || why is SecurityException -> show(gone(found.gone))
            else -> failed(why, ::load)
        }
    }

    override fun keep(state: Bundle) {
        at?.let { state.putInt(AT, it) }
        state.putBoolean(UNFOLDED, unfolded)
        state.putBoolean(CHOOSING, choosing)
        state.putBoolean(PINNING, pinning)
    }

    override fun leave() {
        val open = open ?: return
        this.open = null
        letGo()
        val at = at?.toUInt() ?: return
        if (at != marking.frame) frame.phone.book.ask({ it.mark(frame.phone.device.env(), open.clip, Tap.Look(at)) }) {}
    }

    override fun stop() {
        super.stop()
        letGo()
    }

    override fun start() {
        super.start()
        if (frames != null) return
        decode()
        look()
    }

    private fun letGo() {
        frames?.close()
        frames = null
    }

    /** Has pictures decoded, as long as somebody looks. */
    private fun decode() {
        val open = open ?: return
        if (!looked) return
        frames = frame.phone.clips.frames(open.place, open.page.frames).also {
            it.arrived = ::arrived
            it.failed = ::noPictures
        }
    }

    private fun gone(why: String): View {
        val page = parts.page()
        page.body.addView(parts.title(labels.failed))
        page.body.add(parts.text(why), look)
        page.foot.add(parts.wide(labels.back) { frame.back() }, look, 0)
        closeFoot(page)
        return page.view
    }

    private fun begin(open: Open) {
        letGo()
        this.open = open
        leftHand = open.page.leftHand
        marking = open.page.marking
        pinning = pinning || !marking.pinned
        if (at == null) at = marking.frame.toInt()
        decode()
        build()
    }

    private fun arrived(frame: Int) {
        val picture = frames?.picture(frame) ?: return
        crops?.put(frame, picture)
        if (frame == at) pin?.show(picture)
    }

    /** Without pictures a clip can still be stepped through by its times. */
    private fun noPictures() {
        val open = open ?: return
        pinning = false
        build()
        rest?.addView(parts.caution(open.page.words.noPicture), 0)
    }

    // What is shown

    /** Builds the screen; steps and taps only fill it. */
    private fun build() {
        val open = open ?: return
        val body = parts.column().apply { setPadding(look.dp(12), look.dp(12), look.dp(12), look.dp(Look.Space.LARGE)) }
        val scroll = ScrollView(context).apply {
            id = R.id.page
            isFillViewport = true
            addView(body, MATCH_PARENT, WRAP_CONTENT)
        }
        val last = open.page.frames.timesUs.lastIndex
        val strip = ThumbStrip(context, look, open.page.words, last, ::step).apply { id = R.id.strip }
        val foot = parts.column()
        this.strip = strip
        this.foot = foot
        head = parts.column()
        rest = parts.column()
        val pictures = if (pinning) pinned(open) else Crops(context, parts, open.page.words, ::mark).also { crops = it; pin = null }
        if (wide) {
            // On its side: pictures and strip under one thumb, words and buttons under the other.
            body.addView(head)
            body.addView(rest)
            val words = parts.column().apply {
                addView(scroll, LinearLayout.LayoutParams(MATCH_PARENT, 0, 1f))
                addView(foot, MATCH_PARENT, WRAP_CONTENT)
            }
            val touched = parts.column().apply {
                setPadding(look.dp(12), look.dp(12), look.dp(12), 0)
                // The strip stays at the bottom, however high the pictures are.
                addView(FrameLayout(context).apply { addView(pictures) }, LinearLayout.LayoutParams(MATCH_PARENT, 0, 1f))
                addView(strip, MATCH_PARENT, WRAP_CONTENT)
            }
            show(side(listOf(words, touched)) { LinearLayout.LayoutParams(0, MATCH_PARENT, 1f) })
        } else {
            body.addView(head)
            body.add(pictures, look, Look.Space.SMALL)
            body.addView(rest)
            show(
                parts.column().apply {
                    addView(scroll, LinearLayout.LayoutParams(MATCH_PARENT, 0, 1f))
                    addView(strip, MATCH_PARENT, WRAP_CONTENT)
                    addView(foot, MATCH_PARENT, WRAP_CONTENT)
                },
            )
        }
        fill()
    }

    /** Side by side, the last one at the side of the thumb, whichever way the language runs. */
    private fun side(views: List<View>, size: (View) -> LinearLayout.LayoutParams): LinearLayout = LinearLayout(context).apply {
        layoutDirection = View.LAYOUT_DIRECTION_LTR
        val words = context.resources.configuration.layoutDirection
        for (view in if (leftHand) views.reversed() else views) {
            view.layoutDirection = words
            addView(view, size(view))
        }
    }

    private fun pinned(open: Open): View {
        crops = null
        return PinBox(context, look, marking.crop).also {
            it.contentDescription = open.page.words.footHint
            pin = it
        }
    }

    /** Fills in what a tap changed. */
    private fun fill() {
        val (head, rest, foot) = Triple(head ?: return, rest ?: return, foot ?: return)
        val page = open?.page ?: return
        listOf(head, rest, foot).forEach { it.removeAllViews() }
        head.addView(parts.label(page.title))
        if (pinning) {
            fillPin(page, head, rest, foot)
        } else {
            val next = marking.next
            head.add(
                parts.text(next.text).apply {
                    textSize = Look.Type.LARGE
                    accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
                },
                look, 2,
            )
            head.add(parts.softText("${next.before}  |  ${next.after}"), look, 0)
            if (next.ended.isNotEmpty()) head.add(parts.text(next.ended), look, 2)
            fillRest(page, rest)
            fillFoot(page, foot)
        }
        look()
    }

    private fun fillPin(page: MarkPage, head: LinearLayout, rest: LinearLayout, foot: LinearLayout) {
        val words = page.words
        head.add(parts.text(words.footHint), look, 4)
        rest.add(parts.choices(listOf(parts.plain(words.closer) { pin?.scale(1 / 1.25) }, parts.plain(words.wider) { pin?.scale(1.25) })), look)
        foot.add(
            parts.wide(words.pin) {
                val crop = pin?.crop ?: marking.crop
                pinning = false
                tap(Tap.Pin(crop), ::build)
            }.apply { id = R.id.save },
            look, Look.Space.SMALL,
        )
        foot.setPadding(look.dp(12), 0, look.dp(12), look.dp(12))
    }

    private fun fillRest(page: MarkPage, rest: LinearLayout) {
        val words = page.words
        val line = marking.line
        val told = parts.text(line.text.ifEmpty { line.why }).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
        if (line.text.isNotEmpty()) told.textSize = Look.Type.LARGE
        rest.add(told, look)
        if (line.text.isNotEmpty() && line.why.isNotEmpty()) rest.add(parts.text(line.why), look, 4)
        rest.add(
            parts.choices(
                listOf(
                    parts.plain(words.otherFoot) { tap(Tap.OtherFoot) },
                    parts.plain(words.otherKind) { tap(Tap.OtherKind) },
                    parts.plain(words.foot) {
                        pinning = true
                        build()
                    },
                    parts.plain(if (unfolded) words.less else words.more) {
                        unfolded = !unfolded
                        fill()
                    },
                ),
            ),
            look,
        )
        if (unfolded) fillDetails(page, rest) else rest.add(parts.softText(marking.next.hint), look)
    }

    private fun fillDetails(page: MarkPage, rest: LinearLayout) {
        val words = page.words
        for (mark in marking.marks) rest.add(if (mark.doubted) parts.caution(mark.text) else parts.text(mark.text), look, Look.Space.SMALL)
        marking.marked.take?.let { take ->
            for (time in take.times) rest.add(parts.row(listOf(parts.text(time.label), parts.text(time.value)), time.spoken), look, 0)
            for (said in take.said) rest.add(parts.text(said), look, Look.Space.SMALL)
            rest.add(parts.softText(take.note), look)
        }
        rest.add(parts.text(marking.marked.clock.text), look)
        for (why in marking.marked.clock.evidence) rest.add(parts.softText(why), look, 4)
        for (warning in marking.marked.clock.warnings) rest.add(parts.caution(warning), look)
        shows(page, rest)
        rest.add(parts.label(words.hand), look)
        val hands = listOf(
            parts.choice(words.left, leftHand) { hold(true) },
            parts.choice(words.right, !leftHand) { hold(false) },
        )
        rest.add(parts.choices(hands), look, 4)
        rest.add(parts.plain(words.later) { frame.back() }, look)
        // One of them stands with the times already.
        for (caution in page.form.cautions - setOfNotNull(marking.marked.take?.note)) rest.add(parts.softText(caution), look)
    }

    /** What the clip shows: a set, or an exercise; and how it was filmed, where it does not say. */
    private fun shows(page: MarkPage, rest: LinearLayout) {
        val words = page.words
        rest.add(parts.label(words.shows), look)
        rest.add(
            parts.plain(marking.shown) {
                choosing = !choosing
                fill()
            }.apply { contentDescription = "${words.shows}: ${marking.shown}" },
            look, 4,
        )
        if (!choosing) return
        val now = marking.shows
        if (page.form.members.size > 1) {
            rest.add(parts.choices(page.form.members.map { one -> parts.choice(one.text, now.member == one.id) { changeMember(now, one.id) } }), look)
        }
        if (page.form.sets.isNotEmpty()) rest.add(parts.label(words.sets), look)
        for ((day, sets) in page.form.sets.groupBy { it.group }) {
            rest.add(parts.softText(day), look, Look.Space.SMALL)
            rest.add(parts.choices(sets.map { set -> parts.choice(set.text, now.set == set.id) { change(now.copy(set = set.id, exercise = "")) } }), look, 4)
        }
        rest.add(parts.label(words.exercises), look)
        for ((kind, exercises) in page.form.exercises.groupBy { it.group }) {
            rest.add(parts.softText(kind), look, Look.Space.SMALL)
            rest.add(parts.choices(exercises.map { one -> parts.choice(one.text, now.exercise == one.id) { change(now.copy(set = "", exercise = one.id)) } }), look, 4)
        }
        rest.add(parts.label(words.rate), look)
        rest.add(
            parts.choices(
                page.rates.map { rate ->
                    parts.choice(rate.text, now.captureMhz == rate.mhz) { tap(Tap.Shows(now.copy(captureMhz = rate.mhz))) }
                        .apply { contentDescription = "${words.rate}: ${rate.text}" }
                },
            ),
            look, 4,
        )
    }

    private fun fillFoot(page: MarkPage, foot: LinearLayout) {
        val words = page.words
        val undo = parts.plain(words.undo) { tap(Tap.Undo) }.apply {
            id = R.id.undo
            minHeight = look.dp(Look.Touch.WIDE)
            contentDescription = marking.undo
            visibility = if (marking.undo.isEmpty()) View.INVISIBLE else View.VISIBLE
        }
        val save = parts.wide(words.save, ::save).apply {
            id = R.id.save
            // Their places stay, so that nothing moves under the thumb.
            visibility = if (marking.maySave) View.VISIBLE else View.INVISIBLE
        }
        // In the outer corner: on its side, the phone has the buttons under the other thumb.
        val line = side(if (wide) listOf(undo, save) else listOf(save, undo)) { view ->
            val size = if (view === save) LinearLayout.LayoutParams(0, MATCH_PARENT, 1f) else LinearLayout.LayoutParams(WRAP_CONTENT, MATCH_PARENT)
            size.apply { if (view === if (leftHand != wide) save else undo) leftMargin = look.dp(Look.Space.SMALL) }
        }
        foot.add(line, look, Look.Space.SMALL)
        foot.setPadding(look.dp(12), 0, look.dp(12), look.dp(12))
    }

    // What is done

    private fun step(by: Int) {
        at = (at ?: 0) + by
        back = by < 0
        look()
    }

    /** Shows where the person is: the pictures that are there, and asks for the others. */
    private fun look() {
        val open = open ?: return
        val at = at ?: return
        val next = marking.next
        val around = open.clip.look(frame.phone.device.env(), at.toUInt(), next.foot, next.kind, marking.shows.captureMhz)
        strip?.show(at, around.spoken)
        val wanted = open.clip.around(at.toUInt(), back).map { it.toInt() }
        if (pinning) {
            frames?.want(wanted.take(WHOLE), Area.Whole)
            pin?.show(frames?.picture(at))
        } else {
            frames?.want(wanted, Area.Part(marking.crop))
            crops?.show(around) { frames?.picture(it) }
        }
    }

    private fun mark(before: UInt, after: UInt) = tap(Tap.Gap(marking.next.foot, marking.next.kind, before, after))

    /** One tap is one call: it is kept, and where to look next is the core's to say. */
    private fun tap(tap: Tap, then: () -> Unit = ::fill) {
        val open = open ?: return
        if (underWay) return
        underWay = true
        frame.phone.book.ask({ it.mark(frame.phone.device.env(), open.clip, tap) }) { answer ->
            underWay = false
            if (this.open !== open) return@ask
            when (answer) {
                is Answer.Good -> {
                    marking = answer.value
                    if (tap is Tap.Gap || tap is Tap.Undo) at = marking.frame.toInt()
                    then()
                }
                is Answer.Bad -> failed(answer.why)
            }
        }
    }

    private fun failed(why: Exception) = ask<Unit>({ throw why }) {}

    private fun change(shows: ClipShows) {
        choosing = false
        tap(Tap.Shows(shows))
    }

    /** Another athlete has other sets: the page is asked for anew. */
    private fun changeMember(now: ClipShows, member: String) = tap(Tap.Shows(now.copy(member = member, set = "")), ::load)

    private fun hold(inLeft: Boolean) = ask({ it.holdIn(inLeft) }) {
        leftHand = inLeft
        build()
    }

    private fun save() {
        val open = open ?: return
        act({ it.saveMarks(frame.phone.device.env(), open.clip) }) {
            // Nobody looks at it again.
            at = null
            frame.back()
        }
    }

    private companion object {
        const val AT = "at"
        const val UNFOLDED = "unfolded"
        const val CHOOSING = "choosing"
        const val PINNING = "pinning"

        /** Whole pictures that are held: they are large. */
        const val WHOLE = 9
    }
}
