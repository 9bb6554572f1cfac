package pitside.phone.share

import android.content.ClipData
import android.content.Context
import android.content.Intent
import android.net.Uri
import java.io.File

/** The files that this app passes on to others: the folders they lie in, and the sheet of the system that asks where to. */
object Shared {
    const val AUTHORITY = "pitside.phone.shared"

    /** What holds the folders, the only ones that another app is ever given a file of. */
    fun all(context: Context): File = File(context.noBackupFilesDir, "shared")

    /** One of these folders. */
    fun folder(context: Context, name: String): File = File(all(context), name).apply { mkdirs() }

    /** Asks a person where a file of such a folder goes; whoever is chosen may read that one file. */
    fun send(file: File, type: String): Intent {
        val folder = checkNotNull(file.parentFile).name
        val uri = Uri.Builder().scheme("content").authority(AUTHORITY).appendPath(folder).appendPath(file.name).build()
        val send = Intent(Intent.ACTION_SEND).setType(type).putExtra(Intent.EXTRA_STREAM, uri).addFlags(Intent.FLAG_GRANT_READ_URI_PERMISSION)
        send.clipData = ClipData.newRawUri(null, uri)
        return Intent.createChooser(send, null)
    }
}
