package pitside.phone.exchange

import android.content.Context
import android.content.Intent
import android.net.Uri
import java.io.File
import java.io.IOException
import pitside.phone.share.Shared
import uniffi.pitside_screen.ExchangeEnd
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.PitsideInterface

/** The files that go from device to device by other means: the folder they lie in, and what they are to the system. */
object HandOver {
    /** Files of this app; each is sealed to one device and says nothing to others. */
    const val TYPE = "application/x-pitside"

    /** Where they lie among what is passed on. */
    const val FOLDER = "hand-over"

    /** What the name of a copy begins with. */
    private const val COPY = "taken-in"

    /** What is longer is no file of ours: a book of five years is a tenth of it. */
    private const val MOST_BYTES = 512L * 1024 * 1024

    /** How long a file is left for whoever was given it to read. */
    private const val KEPT_MS = 24L * 60 * 60 * 1_000

    /** A folder for a new file; older ones are cleared away. */
    fun cleared(context: Context, nowMs: Long): File = Shared.folder(context, FOLDER).apply {
        listFiles().orEmpty().filter { it.lastModified() < nowMs - KEPT_MS }.forEach { it.delete() }
    }

    /** Asks a person where it goes. */
    fun share(path: String): Intent = Shared.send(File(path), TYPE)

    /** Takes a document in: a copy of it is read, and goes with the work. */
    fun takeIn(context: Context, document: Uri, env: () -> uniffi.pitside_screen.Env): (PitsideInterface, Job) -> ExchangeEnd = { core, job ->
        val copy = File.createTempFile(COPY, null, context.noBackupFilesDir)
        try {
            // What could not be copied is a file that cannot be read, and the core says so.
            if (!copied(context, document, copy)) copy.delete()
            core.takeInFile(env(), copy.path, job)
        } finally {
            copy.delete()
        }
    }

    /** Clears away the copies that were left where the process died. Before any is taken in. */
    fun forget(context: Context) {
        context.noBackupFilesDir.listFiles { file -> file.name.startsWith(COPY) }.orEmpty().forEach { it.delete() }
    }

    private fun copied(context: Context, document: Uri, to: File): Boolean = try {
        val input = context.contentResolver.openInputStream(document)
        input?.use { from ->
            to.outputStream().use { out ->
                val piece = ByteArray(64 * 1024)
                var all = 0L
                while (all <= MOST_BYTES) {
                    val n = from.read(piece)
                    if (n < 0) return true
                    out.write(piece, 0, n)
                    all += n
                }
            }
        }
        false
    } catch (_: IOException) {
        false
    } catch (_: SecurityException) {
        false
    }
}
