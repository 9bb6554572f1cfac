package pitside.phone.share

import android.content.ContentProvider
import android.content.ContentValues
import android.database.Cursor
import android.database.MatrixCursor
import android.net.Uri
import android.os.ParcelFileDescriptor
import android.provider.OpenableColumns
import java.io.File
import java.io.FileNotFoundException
import pitside.phone.exchange.HandOver

/**
 * Gives the files of the folders that are passed on, and no other, to be read by whoever was
 * granted one of them. Nothing can be listed, written or deleted through it.
 */
class SharedProvider : ContentProvider() {
    override fun onCreate() = true

    /** The plain names of a folder and of a file in it, which is there. */
    private fun file(uri: Uri): File {
        val names = uri.pathSegments
        if (names.size != 2) throw FileNotFoundException()
        val all = Shared.all(checkNotNull(context)).canonicalFile
        val file = File(File(all, names[0]), names[1]).canonicalFile
        if (file.parentFile?.parentFile != all || !file.isFile) throw FileNotFoundException()
        return file
    }

    override fun openFile(uri: Uri, mode: String): ParcelFileDescriptor {
        if (mode != "r") throw FileNotFoundException()
        return ParcelFileDescriptor.open(file(uri), ParcelFileDescriptor.MODE_READ_ONLY)
    }

    override fun getType(uri: Uri) = if (uri.pathSegments.firstOrNull() == HandOver.FOLDER) HandOver.TYPE else Export.TYPE

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
