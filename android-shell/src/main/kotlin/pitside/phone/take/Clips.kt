package pitside.phone.take

import android.content.Context
import android.content.Intent
import android.net.Uri
import android.provider.DocumentsContract
import android.provider.OpenableColumns
import java.io.FileNotFoundException
import uniffi.pitside_screen.ClipFile
import uniffi.pitside_screen.FrameIndex
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.OpenClip
import uniffi.pitside_screen.readLentClip

/** The clips of this phone. They stay where the person keeps them; nothing is copied. */
abstract class Clips {
    /** The clip that was opened last, and where it is: who chose it marks it next. */
    private var opened: Pair<String, OpenClip>? = null

    /** What asks the system to have a clip chosen. */
    abstract fun picker(): Intent

    /** What is known of a file that was chosen; from then on it may be read again later. */
    abstract fun found(place: Uri): ClipFile

    /** Lends a descriptor of a file; throws where the file is not found. */
    protected abstract fun <T> lend(place: String, use: (Int) -> T): T

    /** Deletes a file; `false` where its keeper does not let it be deleted. */
    abstract fun delete(place: String): Boolean

    /** Gives back the right to read a file. */
    abstract fun letGo(place: String)

    /** The pictures of a clip. */
    abstract fun frames(place: String, index: FrameIndex): Frames

    /** The clip of a place, where it was the last one read. */
    @Synchronized
    fun known(place: String): OpenClip? = opened?.takeIf { (last, _) -> last == place }?.second

    /** Reads a clip: its tables, and all of its bytes once, which takes seconds where it is long. `null` where the job was called off. */
    fun read(place: String, job: Job): OpenClip? = known(place) ?: lend(place) { readLentClip(it, job) }?.also { keep(place, it) }

    @Synchronized
    private fun keep(place: String, clip: OpenClip) {
        opened = place to clip
    }
}

/** Clips that the system's document providers keep. */
class AndroidClips(private val context: Context) : Clips() {
    private val resolver get() = context.contentResolver

    /** On this phone alone: what an online store fetches is seldom the original. */
    override fun picker(): Intent = Intent(Intent.ACTION_OPEN_DOCUMENT)
        .addCategory(Intent.CATEGORY_OPENABLE)
        .setType("video/*")
        .putExtra(Intent.EXTRA_LOCAL_ONLY, true)
        .addFlags(RIGHTS or Intent.FLAG_GRANT_PERSISTABLE_URI_PERMISSION)

    override fun found(place: Uri): ClipFile {
        try {
            resolver.takePersistableUriPermission(place, RIGHTS)
        } catch (_: SecurityException) {
            // Not every provider lets a file be deleted, or read again after a restart.
            try {
                resolver.takePersistableUriPermission(place, Intent.FLAG_GRANT_READ_URI_PERMISSION)
            } catch (_: SecurityException) {
            }
        }
        val columns = arrayOf(OpenableColumns.DISPLAY_NAME, OpenableColumns.SIZE, DocumentsContract.Document.COLUMN_LAST_MODIFIED)
        resolver.query(place, columns, null, null, null)?.use { row ->
            if (row.moveToFirst()) {
                val number = { column: String ->
                    row.getColumnIndex(column).takeIf { it >= 0 && !row.isNull(it) }?.let(row::getLong)?.takeIf { it > 0 }
                }
                val name = row.getColumnIndex(OpenableColumns.DISPLAY_NAME).takeIf { it >= 0 }?.let(row::getString)
                return ClipFile(
                    place.toString(), name ?: place.lastPathSegment.orEmpty(),
                    number(OpenableColumns.SIZE)?.toULong(), number(DocumentsContract.Document.COLUMN_LAST_MODIFIED),
                )
            }
        }
        return ClipFile(place.toString(), place.lastPathSegment.orEmpty(), null, null)
    }

    override fun <T> lend(place: String, use: (Int) -> T): T {
        val lent = resolver.openFileDescriptor(Uri.parse(place), "r") ?: throw FileNotFoundException(place)
        return lent.use { use(it.fd) }
    }

    override fun delete(place: String): Boolean = try {
        DocumentsContract.deleteDocument(resolver, Uri.parse(place))
    } catch (_: FileNotFoundException) {
        false
    } catch (_: SecurityException) {
        false
    } catch (_: UnsupportedOperationException) {
        false
    }

    override fun letGo(place: String) {
        val held = resolver.persistedUriPermissions.firstOrNull { it.uri.toString() == place } ?: return
        val rights = (if (held.isReadPermission) Intent.FLAG_GRANT_READ_URI_PERMISSION else 0) or
            (if (held.isWritePermission) Intent.FLAG_GRANT_WRITE_URI_PERMISSION else 0)
        resolver.releasePersistableUriPermission(held.uri, rights)
    }

    override fun frames(place: String, index: FrameIndex): Frames = DecodedFrames(index) { Decoder(context, Uri.parse(place), index) }

    private companion object {
        const val RIGHTS = Intent.FLAG_GRANT_READ_URI_PERMISSION or Intent.FLAG_GRANT_WRITE_URI_PERMISSION
    }
}
