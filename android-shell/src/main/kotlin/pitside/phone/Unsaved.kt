package pitside.phone

import uniffi.pitside_screen.PitsideInterface

/**
 * What could not be written down and whose screen was left before that was known. It is told on
 * whichever screen is in front, until it is written or let go. On the main thread alone.
 */
class Unsaved(private val book: () -> Book) {
    /** One of them: what was written on the screen of that title, and why it was not kept. */
    class One internal constructor(val title: String, val why: Exception, internal val call: (PitsideInterface) -> Any?)

    private val all = ArrayDeque<One>()

    /** One is tried again: a second tap does not write it twice. */
    private var trying = false

    /** Hears when there is another first one, or none. */
    var changed: () -> Unit = {}

    /** Hears when one was written after all. */
    var written: () -> Unit = {}

    /** The oldest of them. */
    val first: One? get() = all.firstOrNull()

    fun add(title: String, why: Exception, call: (PitsideInterface) -> Any?) {
        all += One(title, why, call)
        changed()
    }

    /** Tries the first one again; where it fails once more it stays. */
    fun again() {
        val one = first ?: return
        if (trying) return
        trying = true
        book().ask(one.call) { answer ->
            trying = false
            all.remove(one)
            if (answer is Answer.Bad) all.addFirst(One(one.title, answer.why, one.call)) else written()
            changed()
        }
    }

    /** Lets the first one go. */
    fun letGo() {
        if (trying) return
        all.removeFirstOrNull()
        changed()
    }
}
