package pitside.phone

import java.io.File
import java.nio.file.Files
import java.util.concurrent.TimeUnit
import uniffi.pitside_screen.Env

/**
 * The books of the invented squad, as `pitside demo` writes them: the coach's and one of each
 * athlete, eight weeks long and synced. The program runs once for all tests; every test has
 * copies of its own.
 *
 * Each athlete has a story (`desk-shell/src/demo/cast.rs`). Aune has takes of a clip and jumps,
 * Cleo a session that she and the coach rated differently, Finn a limit, Dario pain that he
 * shares, Hana is young, Ivo logs now and then.
 */
object DemoBook {
    const val COACH = "coach"

    /** Puts a copy of somebody's book into a folder; gives the key that it is opened with. */
    fun copy(who: String, into: File): ByteArray {
        val from = File(folder(), who)
        check(from.isDirectory) { "the demo has no book of $who" }
        check(from.copyRecursively(into, overwrite = true))
        return File(into, "device.key").readBytes()
    }

    /** The demo's clock stands still: Saturday 28 March 2026, 18:00, an hour east of UTC. */
    fun evening(language: String = "en", minutes: Int = 0) =
        Env(language, 60.toShort(), true, 1_774_717_200_000L + minutes * 60_000L)

    /** Made once a JVM: Robolectric loads this class more than once, so a property of the system tells. */
    private fun folder(): File = synchronized(System.getProperties()) {
        System.getProperty(PLACE)?.let { return File(it) }
        val made = Files.createTempDirectory("demo").toFile()
        Runtime.getRuntime().addShutdownHook(Thread { made.deleteRecursively() })
        val said = File(made, "said")
        val program = ProcessBuilder(File(LIBRARY, "pitside").path, "demo", "--no-serve", "--folder", File(made, "books").path)
            .redirectErrorStream(true).redirectOutput(said).start()
        val ended = program.waitFor(5, TimeUnit.MINUTES)
        if (!ended) program.destroyForcibly()
        check(ended && program.exitValue() == 0) { said.readText() }
        File(made, "books").also { System.setProperty(PLACE, it.path) }
    }

    private const val PLACE = "pitside.demo"
}
