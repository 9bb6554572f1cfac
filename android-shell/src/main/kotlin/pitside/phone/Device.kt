package pitside.phone

import android.app.UiModeManager
import android.content.Context
import android.os.Build
import android.text.format.DateFormat
import java.util.TimeZone
import uniffi.pitside_screen.Env

/** What the core is told at every call, and what a person set on the device. */
interface Device {
    fun env(): Env

    /** Whether the person asked the system for more contrast. */
    fun highContrast(): Boolean
}

/** `spoken` is the language that the person chose, or empty. */
class AndroidDevice(private val context: Context, private val spoken: () -> String) : Device {
    override fun env(): Env {
        val now = System.currentTimeMillis()
        return Env(
            language = spoken().ifEmpty { context.resources.configuration.locales[0].toLanguageTag() },
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
