package pitside.phone.screen

import android.content.Intent
import android.os.Bundle
import android.view.View
import android.view.ViewGroup
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.FrameLayout
import android.widget.LinearLayout
import android.widget.TextView
import pitside.phone.Answer
import pitside.phone.Phone
import pitside.phone.inWords
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import pitside.phone.look.leading
import uniffi.pitside_screen.Chosen
import uniffi.pitside_screen.Labels
import uniffi.pitside_screen.Link
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.Said
import uniffi.pitside_screen.ScreenException

/** What a screen may ask of the activity that shows it. */
interface Frame {
    val phone: Phone
    val parts: Parts

    /** Whether this device can draw what a route leads to. */
    fun draws(route: String): Boolean

    /** Takes the places away from beside the screen that is shown, or brings them back. */
    fun alone(yes: Boolean)

    /** Goes on to another screen. */
    fun open(route: String)

    /** Goes back to the one before. */
    fun back()

    /** Asks another app for something; the screen that is shown then gets the answer. */
    fun ask(intent: Intent)

    /** Asks the person for what is not granted yet; [Screen.permitted] hears of it, at once where all is. */
    fun permit(permissions: List<String>, code: Int)

    /** Asks the person whether this app may notify, where that was not settled yet. */
    fun askToNotify()

    /** Draws everything anew by what was chosen for this phone. */
    fun chosen(chosen: Chosen)
}

/** What was written could not be read again. */
internal class NotRead(cause: Exception) : Exception(cause)

/** One screen: it asks for a record, draws it, and forwards what is tapped. */
abstract class Screen(internal val frame: Frame, context: android.content.Context) {
    protected val parts: Parts = frame.parts
    protected val look: Look = parts.look
    protected val labels: Labels = frame.phone.words()

    /** Stays the same while what is in it is drawn anew. */
    val view: FrameLayout = FrameLayout(context)

    /** Asks for the record and draws it. */
    abstract fun load()

    /** Keeps what only this screen knows, for when the process dies. */
    open fun keep(state: Bundle) {}

    /** Gets what another app answered. */
    open fun answered(data: Intent) {}

    /** What came of [Frame.permit]: whether all of it is granted. */
    open fun permitted(code: Int, granted: Boolean) {}

    /** Lets go of what it holds: another screen is shown, or none. */
    open fun leave() {}

    /** Nobody looks for now: lets go of what other apps need. */
    open fun stop() {}

    /** Somebody looks again. */
    open fun start() {}

    /** Another screen is shown, or none: what the core still answers is no longer this one's to act on. */
    private var left = false

    /** An action is on its way. */
    private var busy = false

    /** What is shown in this one's place since the phone was turned. */
    private var heir: Screen? = null

    /** Ends this screen; it is not shown again. */
    fun end() {
        left = true
        leave()
    }

    /** Goes on in the place of one that ended because the phone was turned: what that one began is answered here. */
    fun succeed(ended: Screen) {
        if (ended.javaClass != javaClass) return
        ended.heir = this
        busy = ended.busy
    }

    /** Who hears an answer: this screen, or what is shown in its place; `null` where the person has left it. */
    private fun here(): Screen? = generateSequence(this) { it.heir }.last().takeIf { !it.left }

    /**
     * Asks the core; where that fails says so, with a way to try again. Whoever has left the
     * screen by then is not moved, and only `always` hears of it; what was to be written by a
     * call that `saves`, and was not, is told wherever the person is.
     */
    protected fun <T> ask(
        call: (PitsideInterface) -> T,
        again: () -> Unit = ::load,
        always: (T) -> Unit = {},
        saves: Boolean = false,
        then: (T) -> Unit,
    ) {
        val title = title()
        frame.phone.book.ask(call) { answer ->
            if (answer is Answer.Good) always(answer.value)
            when {
                answer is Answer.Good -> if (!left) then(answer.value)
                answer !is Answer.Bad -> {}
                !left -> failed(answer.why, again)
                saves -> here()?.let { it.failed(answer.why, it::load) } ?: unsaved(title, answer.why, call)
            }
        }
    }

    /**
     * Does what is done once: a second tap before the answer, a finger's or the rain's, does
     * nothing. `then` is done by the screen that is shown in this one's place by that time.
     */
    @Suppress("UNCHECKED_CAST") // An heir is of the same class.
    protected fun <S : Screen, T> S.act(call: (PitsideInterface) -> T, always: (T) -> Unit = {}, saves: Boolean = true, then: S.(T) -> Unit) {
        val begun: Screen = this
        if (begun.busy || begun.left) return
        begun.busy = true
        val title = begun.title()
        val book = begun.frame.phone.book
        val settle = { answer: Answer<T> ->
            val here = begun.here()
            here?.busy = false
            when {
                answer is Answer.Good -> (here as S?)?.then(answer.value)
                answer !is Answer.Bad -> {}
                here != null -> here.failed(answer.why, here::load)
                saves -> begun.unsaved(title, answer.why, call)
            }
        }
        book.ask(call) { answer ->
            if (answer is Answer.Good) always(answer.value)
            // What stands in its place has asked for what it shows, and is to show that first.
            if (begun.here() === begun) settle(answer) else book.ask({}) { settle(answer) }
        }
    }

    /** Tells it wherever the person is, unless it was written and only not read again. */
    private fun unsaved(title: String, why: Exception, call: (PitsideInterface) -> Any?) {
        if (why !is NotRead) frame.phone.unsaved.add(title, why, call)
    }

    /** Reads what is shown after something was written: where that fails, the writing is not to be done once more. */
    protected fun <T> thenRead(read: () -> T): T = try {
        read()
    } catch (e: Exception) {
        throw NotRead(e)
    }

    /** What stands above it. */
    private fun title(): String = view.within().filterIsInstance<TextView>().firstOrNull()?.text?.toString().orEmpty()

    protected fun show(whole: View) {
        view.removeAllViews()
        view.addView(whole)
    }

    /** Draws anew and stays where the person was, also with the reader's place. */
    protected fun redraw(whole: View) {
        val scroll = view.findViewById<View>(pitside.phone.R.id.page)
        val y = scroll?.scrollY ?: 0
        val typed = view.findFocus()?.let { Stood.of(view, it) }
        val heard = view.within().firstOrNull { it.isAccessibilityFocused }?.let { Stood.of(view, it) }
        show(whole)
        // A group would hand it on to the first field in it.
        typed?.find(view)?.takeIf { it !is ViewGroup }?.requestFocus()
        // A reader goes only to what was laid out.
        heard?.let { stood -> whole.post { stood.find(view)?.performAccessibilityAction(AccessibilityNodeInfo.ACTION_ACCESSIBILITY_FOCUS, null) } }
        if (y > 0) whole.post { view.findViewById<View>(pitside.phone.R.id.page)?.scrollTo(0, y) }
    }

    /** Says what failed, in the place of everything else. */
    protected fun failed(why: Exception, again: () -> Unit) = show(failure(why, again))

    private fun failure(why: Exception, again: () -> Unit): View {
        val page = parts.page()
        page.body.addView(parts.title(labels.failed))
        val said = why.inWords(frame.phone.device.env())
        page.body.add(parts.text(said.text), look)
        if (said.mayDo.isNotEmpty()) page.body.add(parts.text(said.mayDo), look, Look.Space.SMALL)
        // What is not there, or was refused, is so once more: then the way back comes first.
        val back = { frame.back() }
        if (why is ScreenException.NotFound || why is ScreenException.Refused) {
            page.foot.add(parts.wide(labels.back, back), look, Look.Space.SMALL)
            page.foot.add(parts.plain(labels.again, again), look, Look.Space.SMALL)
        } else {
            page.foot.add(parts.wide(labels.again, again), look, Look.Space.SMALL)
            page.foot.add(parts.plain(labels.back, back), look, Look.Space.SMALL)
        }
        closeFoot(page)
        return page.view
    }

    /** What speaks for care: what was seen, by which rule, from where, and what a person may do. */
    protected fun said(said: Said): View {
        val words = listOf(said.saw, said.rule, said.source, said.mayDo).filter { it.isNotEmpty() }
        val lines = words.mapIndexed { at, line -> if (at == 0 || at == words.lastIndex) parts.text(line) else parts.softText(line) }
        return parts.barred(parts.row(listOf(parts.label(said.grade)) + lines, said.spoken))
    }

    /** What a person should know of the book; each leads on to where more of it is, unless that is `here`. */
    protected fun notices(body: LinearLayout, notices: List<Link>, here: String = "") {
        for (notice in notices) {
            val leads = notice.route != here && frame.draws(notice.route)
            val row = { parts.leading(parts.row(listOf(parts.text(notice.text)), notice.text)) { frame.open(notice.route) } }
            body.add(if (leads) parts.barred(row()) else parts.caution(notice.text), look)
        }
    }

    protected fun closeFoot(page: Parts.Page) {
        page.foot.setPaddingRelative(look.dp(20), look.dp(Look.Space.SMALL), look.dp(20), look.dp(Look.Space.MIDDLE))
    }
}
