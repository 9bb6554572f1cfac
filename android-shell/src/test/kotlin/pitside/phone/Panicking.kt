package pitside.phone

import uniffi.pitside_panics.InternalException
import uniffi.pitside_panics.panicOnPurpose
import uniffi.pitside_screen.Pitside

/**
 * A phone that loads the library with the function that panics: it writes a set, panics, goes on
 * with the same book, lets go of it and opens it again.
 */
object Panicking {
    @JvmStatic
    fun main(arguments: Array<String>) {
        val folder = arguments[0]
        Pitside.open(folder, SEED, morning()).use { book ->
            book.logToday(morning(), "", book.logSet(morning()).form)
            try {
                panicOnPurpose(book, morning())
                println("no error")
            } catch (e: InternalException) {
                println("error: ${e.message}")
            }
            book.logToday(morning(minutes = 3), "", book.logSet(morning()).form)
            println("after: " + book.today(morning()).carried)
            book.letGo()
        }
        Pitside.open(folder, SEED, morning()).use { book ->
            println("again: " + book.today(morning()).carried)
            book.letGo()
        }
    }
}
