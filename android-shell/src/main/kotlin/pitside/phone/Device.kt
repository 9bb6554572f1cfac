package pitside.phone

import android.app.UiModeManager
import android.content.Context
import android.os.Build
import android.text.format.DateFormat
import java.util.TimeZone
import uniffi.pitside_screen.Chosen
import uniffi.pitside_screen.Env
import uniffi.pitside_screen.spoken

/** What the core is told at every call, and what a person set on the device. */
interface Device {
    fun env(): Env

    /** Whether the person asked the system for more contrast. */
    fun highContrast(): Boolean
}

/** `chosen` is what the person chose in the book; nothing as long as that was not asked. */
class AndroidDevice(private val context: Context, private val chosen: () -> Chosen?) : Device {
    override fun env(): Env {
        val now = System.currentTimeMillis()
        val tag = context.resources.configuration.locales[0].toLanguageTag()
        return Env(
            language = chosen()?.let { spoken(it, tag) } ?: tag,
            zoneMin = (TimeZone.getDefault().getOffset(now) / 60_000).toShort(),
            hour24 = DateFormat.is24HourFormat(context),
            nowMs = now,
        )
    }

    override fun highContrast(): Boolean {
        if (Build.VERSION.SDK_INT < Build.VERSION_CODES.UPSIDE_DOWN_CAKE) return false
        return context.getSystemService(UiModeManager::class.java).contrast >= 0.5f
    }
}
