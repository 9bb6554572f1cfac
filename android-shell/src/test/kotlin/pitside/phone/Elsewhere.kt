package pitside.phone

import java.io.File
import uniffi.pitside_screen.Env
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.PitsideInterface

/** The device of somebody else in the demo's squad. What it writes comes to the phone as a file that is handed over. */
class Elsewhere(who: String, private val folder: File, private val env: Env) : AutoCloseable {
    val book: Pitside = File(folder, who).let { Pitside.open(it.path, DemoBook.copy(who, it), env) }

    /** Hands all that it may over to the device of another book. */
    fun handTo(other: PitsideInterface) {
        val device = other.devices(env).devices.single { it.here }.id
        val written = book.handOver(env, device, folder.path, Job())
        check(written.done) { written.text }
        val taken = other.takeInFile(env, written.path, Job())
        check(taken.done) { taken.text }
    }

    override fun close() = book.letGo()
}
