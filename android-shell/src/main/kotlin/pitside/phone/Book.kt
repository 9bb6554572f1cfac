package pitside.phone

import java.util.concurrent.Executor
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
                Answer.Good(call(opened ?: open().also { opened = it }))
            } catch (e: Exception) {
                Answer.Bad(e)
            }
            main.execute { answer(said) }
        }
    }
}

/** What came of a call. */
sealed interface Answer<out T> {
    data class Good<T>(val value: T) : Answer<T>
    data class Bad(val why: Exception) : Answer<Nothing>
}
