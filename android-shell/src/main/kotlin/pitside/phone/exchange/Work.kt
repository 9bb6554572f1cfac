package pitside.phone.exchange

import java.util.concurrent.Executor
import pitside.phone.Answer
import pitside.phone.Book
import pitside.phone.inWords
import uniffi.pitside_screen.Env
import uniffi.pitside_screen.ExchangeEnd
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.PitsideInterface

/**
 * Long work of one sort that a person began and watches: syncs and their files, the file of all
 * data, the reading of clips. One at a time, on a thread of its own, so that the book goes on
 * answering; it outlives the screens that show it. Everything here is touched on the main thread
 * alone, but for what `call` does. It ends with an [E].
 */
class Work<E : Any>(
    private val book: Book,
    private val worker: Executor,
    private val main: Executor,
    /** A job of this sort, which was not begun. */
    private val sort: () -> Job,
    /** The end of what failed. */
    private val failed: (Exception) -> E,
    /** Makes it visible while it goes on, wherever the person is. */
    private val begun: () -> Unit = {},
) {
    /** What goes on. */
    var job: Job? = null
        private set

    /** How the last one ended, until somebody has seen it. */
    var end: E? = null
        private set

    /** Hears when one ends. */
    var ended: () -> Unit = {}

    /** What waits for its turn. */
    private val waiting = ArrayDeque<(PitsideInterface, Job) -> E>()

    /** Begins it, or keeps it until what goes on has ended and that was seen. */
    fun follow(call: (PitsideInterface, Job) -> E) {
        if (!begin(call)) waiting.addLast(call)
    }

    /** Begins it; not where another goes on, and then gives `false`. */
    fun begin(call: (PitsideInterface, Job) -> E): Boolean {
        if (job != null) return false
        val job = sort()
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

    private fun finish(end: E) {
        job?.close()
        job = null
        this.end = end
        ended()
    }
}

/** The end of a sync, or of the writing of a file, that failed before it was begun. */
fun failedExchange(why: Exception, env: Env) = why.inWords(env).let { ExchangeEnd(false, it.text, it.mayDo, false, "") }
