package pitside.phone.share

import android.content.Context
import android.content.Intent
import java.io.File
import java.text.SimpleDateFormat
import java.util.Date
import java.util.Locale
import java.util.TimeZone

/** The file with everything that a person takes along, and how it is passed on. */
object Export {
    const val TYPE = "application/json"
    private const val FOLDER = "export"
    private const val ENDING = "json"

    /** A new file; what was passed on before is done with. */
    fun file(context: Context, nowMs: Long): File {
        val folder = Shared.folder(context, FOLDER)
        folder.listFiles().orEmpty().forEach { it.delete() }
        val day = SimpleDateFormat("yyyy-MM-dd", Locale.ROOT).apply { timeZone = TimeZone.getDefault() }.format(Date(nowMs))
        return File(folder, "pitside-$day.$ENDING")
    }

    /** Clears away what was not written to its end where the process died: the core gives a file its name once it is whole. */
    fun forget(context: Context) {
        Shared.folder(context, FOLDER).listFiles { file -> file.extension != ENDING }.orEmpty().forEach { it.delete() }
    }

    /** Asks a person where it goes. */
    fun share(file: File): Intent = Shared.send(file, TYPE)
}
