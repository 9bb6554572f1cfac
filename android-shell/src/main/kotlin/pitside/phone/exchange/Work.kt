package pitside.phone.exchange

import java.util.concurrent.Executor
import pitside.phone.Answer
import pitside.phone.Book
import uniffi.pitside_screen.ExchangeEnd
import uniffi.pitside_screen.Failure
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.PitsideInterface

/**
 * Long work that a person began and watches: a sync, a file. One at a time, on a thread of its
 * own, so that the book goes on answering; it outlives the screens that show it. Everything here
 * is touched on the main thread alone, but for what `call` does.
 */
class Work(
    private val book: Book,
    private val worker: Executor,
    private val main: Executor,
    /** Puts why it failed into words. */
    private val said: (Exception) -> Failure,
    /** Makes it visible while it goes on, wherever the person is. */
    private val begun: () -> Unit,
) {
    /** What goes on. */
    var job: Job? = null
        private set

    /** How the last one ended, until somebody has seen it. */
    var end: ExchangeEnd? = null
        private set

    /** Hears when one ends. */
    var ended: () -> Unit = {}

    /** What waits for its turn. */
    private val waiting = ArrayDeque<(PitsideInterface, Job) -> ExchangeEnd>()

    /** Begins it, or keeps it until what goes on has ended and that was seen. */
    fun follow(call: (PitsideInterface, Job) -> ExchangeEnd) {
        if (!begin(call)) waiting.addLast(call)
    }

    /** Begins it; not where another goes on, and then gives `false`. */
    fun begin(call: (PitsideInterface, Job) -> ExchangeEnd): Boolean {
        if (job != null) return false
        val job = Job()
        this.job = job
        end = null
        begun()
        book.ask({ it }) { opened ->
            when (opened) {
                is Answer.Bad -> finish(failed(opened.why))
                is Answer.Good -> worker.execute {
                    val end = try {
                        call(opened.value, job)
                    } catch (e: Exception) {
                        failed(e)
                    }
                    main.execute { finish(end) }
                }
            }
        }
        return true
    }

    fun cancel() {
        job?.cancel()
    }

    /** The end was seen: what waits has its turn. */
    fun seen() {
        end = null
        waiting.removeFirstOrNull()?.let(::follow)
    }

    private fun failed(why: Exception) = said(why).let { ExchangeEnd(false, it.text, it.mayDo, false, "") }

    private fun finish(end: ExchangeEnd) {
        job?.close()
        job = null
        this.end = end
        ended()
    }
}
