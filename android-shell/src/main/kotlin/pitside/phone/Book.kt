package pitside.phone

import java.util.concurrent.ExecutionException
import java.util.concurrent.Executor
import java.util.concurrent.FutureTask
import uniffi.pitside_screen.PitsideInterface

/**
 * The phone's book. One background thread calls the core, so that actions keep their order;
 * answers come back on the main thread.
 */
class Book(
    private val background: Executor,
    private val main: Executor,
    private val open: () -> PitsideInterface,
) {
    /** Touched on the background thread alone. */
    private var opened: PitsideInterface? = null

    /** Calls the core; `answer` gets what came of it. */
    fun <T> ask(call: (PitsideInterface) -> T, answer: (Answer<T>) -> Unit) {
        background.execute {
            val said = try {
                Answer.Good(call(there()))
            } catch (e: Exception) {
                Answer.Bad(e)
            }
            main.execute { answer(said) }
        }
    }

    /** Calls the core in its turn and waits for what comes of it: for a thread of its own, neither the main one nor the book's. */
    fun <T> inTurn(call: (PitsideInterface) -> T): T {
        val asked = FutureTask { call(there()) }
        background.execute(asked)
        try {
            return asked.get()
        } catch (e: ExecutionException) {
            throw e.cause ?: e
        }
    }

    private fun there(): PitsideInterface = opened ?: open().also { opened = it }
}

/** What came of a call. */
sealed interface Answer<out T> {
    data class Good<T>(val value: T) : Answer<T>
    data class Bad(val why: Exception) : Answer<Nothing>
}
