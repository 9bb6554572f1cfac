package pitside.phone.exchange

import android.content.ContentProvider
import android.content.ContentValues
import android.database.Cursor
import android.database.MatrixCursor
import android.net.Uri
import android.os.ParcelFileDescriptor
import android.provider.OpenableColumns
import java.io.File
import java.io.FileNotFoundException

/**
 * Gives the files of the hand-over folder, and of no other, to be read by whoever was granted one
 * of them. Nothing can be listed, written or deleted through it.
 */
class HandOverProvider : ContentProvider() {
    override fun onCreate() = true

    /** A plain name of a file that is there. */
    private fun file(uri: Uri): File {
        val name = uri.pathSegments.singleOrNull() ?: throw FileNotFoundException()
        val folder = HandOver.folder(checkNotNull(context)).canonicalFile
        val file = File(folder, name).canonicalFile
        if (file.parentFile != folder || !file.isFile) throw FileNotFoundException()
        return file
    }

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor {
        if (mode != "r") throw FileNotFoundException()
        return ParcelFileDescriptor.open(file(uri), ParcelFileDescriptor.MODE_READ_ONLY)
    }

    override fun getType(uri: Uri) = HandOver.TYPE

    override fun query(uri: Uri, columns: Array<out String>?, where: String?, given: Array<out String>?, order: String?): Cursor? {
        val file = try {
            file(uri)
        } catch (_: FileNotFoundException) {
            return null
        }
        val known = mapOf(OpenableColumns.DISPLAY_NAME to file.name, OpenableColumns.SIZE to file.length())
        val asked = (columns?.toList() ?: known.keys.toList()).filter { it in known }
        return MatrixCursor(asked.toTypedArray()).apply { addRow(asked.map(known::getValue)) }
    }

    override fun insert(uri: Uri, values: ContentValues?): Uri? = throw UnsupportedOperationException()
    override fun update(uri: Uri, values: ContentValues?, where: String?, given: Array<out String>?): Int = throw UnsupportedOperationException()
    override fun delete(uri: Uri, where: String?, given: Array<out String>?): Int = throw UnsupportedOperationException()
}
