package pitside.phone.screen

import android.content.Context
import android.os.Bundle
import android.view.View
import android.widget.LinearLayout
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.look.folded
import uniffi.pitside_screen.Headings
import uniffi.pitside_screen.Pair
import uniffi.pitside_screen.PitsideInterface

/** A screen of one record, parts of which unfold; which ones outlives the process. */
abstract class Folding<R : Any>(frame: Frame, context: Context, kept: Bundle?) : Screen(frame, context) {
    private val unfolded = LinkedHashSet(kept?.getStringArrayList(UNFOLDED).orEmpty())
    private var record: R? = null
    protected val headings: Headings by lazy { frame.phone.headings() }

    /** The one call of the screen. */
    protected abstract fun fetch(core: PitsideInterface): R

    protected abstract fun draw(record: R): View

    override fun load() = ask({ fetch(it) }) { drawn(it) }

    /** Draws what a call brought. */
    protected fun drawn(record: R) {
        this.record = record
        refresh(record)
    }

    /** Draws a record, the same or another one, where the person is. */
    protected open fun refresh(record: R) = redraw(draw(record))

    override fun keep(state: Bundle) = state.putStringArrayList(UNFOLDED, ArrayList(unfolded))

    /** Folds or unfolds a part. */
    protected fun turn(id: String) {
        if (!unfolded.remove(id)) unfolded += id
        record?.let(::refresh)
    }

    protected fun isOpen(id: String) = id in unfolded

    /** A part behind its heading: `inside` fills it where it is unfolded. */
    protected fun fold(body: LinearLayout, id: String, text: String, dp: Int = Look.Space.MIDDLE, inside: (LinearLayout) -> Unit) {
        body.add(parts.folded(text, isOpen(id)) { turn(id) }, look, dp)
        if (!isOpen(id)) return
        val within = parts.column().apply { setPaddingRelative(look.dp(12), 0, 0, 0) }
        inside(within)
        body.add(within, look, Look.Space.SMALL)
    }

    /** A heading inside the page. */
    protected fun heading(body: LinearLayout, text: String) = body.add(parts.heading(text), look, Look.Space.LARGE)

    /** What is known, one below the other. */
    protected fun pairs(body: LinearLayout, pairs: List<Pair>) = pairs.forEach { pair ->
        body.add(parts.row(listOf(parts.label(pair.label), parts.text(pair.value)), "${pair.label}: ${pair.value}"), look, 0)
    }

    private companion object {
        const val UNFOLDED = "unfolded"
    }
}
