package pitside.phone

import java.io.File
import java.util.concurrent.TimeUnit
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.SessionForm

/** A phone in a process of its own: it writes, says so, and waits to be killed. */
object Killed {
    @JvmStatic
    fun main(arguments: Array<String>) {
        val (folder, language) = arguments
        val env = morning(language)
        val book = Pitside.open(folder, SEED, env)
        val set = book.logSet(env).form.copy(reps = 8u)
        val session = book.beginSession(env, "", SessionForm("", "Prellen", ""))
        book.saveSets(env, session, set)
        // Half filled in, as somebody left it.
        book.keepSet(set.copy(reps = 6u))
        println("written $session")
        Thread.sleep(60_000)
    }

    /** Runs it in `folder` until it has written, then kills it; gives the session. */
    fun afterWriting(folder: File, language: String): String {
        val process = ownProcess(Killed::class.java, LIBRARY, folder.path, language)
        try {
            val line = process.inputStream.bufferedReader().lineSequence().firstOrNull { it.startsWith("written ") }
            return checkNotNull(line) { "it ended before it had written" }.removePrefix("written ")
        } finally {
            // On a desk this is SIGKILL: nothing is flushed and nothing is closed.
            process.destroyForcibly()
            check(process.waitFor(20, TimeUnit.SECONDS))
        }
    }
}
