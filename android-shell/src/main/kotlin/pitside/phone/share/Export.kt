package pitside.phone.share

import android.content.ClipData
import android.content.Context
import android.content.Intent
import android.net.Uri
import java.io.File
import java.text.SimpleDateFormat
import java.util.Date
import java.util.Locale
import java.util.TimeZone

/** The file with everything that a person takes along, and how it is passed on. */
object Export {
    const val TYPE = "application/json"
    const val AUTHORITY = "pitside.phone.export"

    /** The only folder that another app is ever given a file of. */
    fun folder(context: Context): File = File(context.noBackupFilesDir, "export").apply { mkdirs() }

    /** A new file; what was passed on before is done with. */
    fun file(context: Context, nowMs: Long): File {
        val folder = folder(context)
        folder.listFiles().orEmpty().forEach { it.delete() }
        val day = SimpleDateFormat("yyyy-MM-dd", Locale.ROOT).apply { timeZone = TimeZone.getDefault() }.format(Date(nowMs))
        return File(folder, "pitside-$day.json")
    }

    /** The system's ways of passing a file on; whoever is chosen may read that one file. */
    fun share(file: File): Intent {
        val uri = Uri.Builder().scheme("content").authority(AUTHORITY).appendPath(file.name).build()
        val send = Intent(Intent.ACTION_SEND).setType(TYPE).putExtra(Intent.EXTRA_STREAM, uri).addFlags(Intent.FLAG_GRANT_READ_URI_PERMISSION)
        send.clipData = ClipData.newRawUri(null, uri)
        return Intent.createChooser(send, null)
    }
}
