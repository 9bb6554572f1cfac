package pitside.phone

import uniffi.pitside_screen.Pitside

/** A phone in a process of its own that says how long its calls took, in seconds: for `cargo xtask bench`. */
object Measured {
    @JvmStatic
    fun main(arguments: Array<String>) {
        val (folder, calls) = arguments
        val env = morning()
        lateinit var book: Pitside
        say("open", once { book = Pitside.open(folder, SEED, env) })
        say("first", once { book.today(env) })
        val form = book.logSet(env).form
        say("screen", middle(calls.toInt()) { book.today(env) })
        say("form", middle(calls.toInt()) { book.logSet(env) })
        say("action", middle(calls.toInt()) { book.logToday(env, "", form) })
        book.letGo()
    }

    private fun say(name: String, seconds: Double) = println("$name $seconds")

    private fun once(call: () -> Unit): Double {
        val begun = System.nanoTime()
        call()
        return (System.nanoTime() - begun) / 1e9
    }

    private fun middle(calls: Int, call: () -> Unit): Double = List(calls) { once(call) }.sorted()[calls / 2]
}
