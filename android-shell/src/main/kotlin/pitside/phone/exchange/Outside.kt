package pitside.phone.exchange

import android.content.Context
import android.content.Intent
import android.content.IntentFilter
import android.os.BatteryManager
import android.os.Build
import android.os.PowerManager

/** What this phone has of the world around it; tests put their own in its place. */
class Outside(val nearby: NearbySearch, val sight: (Context) -> Sight, val power: Power) {
    companion object {
        fun of(context: Context) = Outside(NsdSearch(context), ::CameraSight, AndroidPower(context))
    }
}

/** The battery. */
fun interface Power {
    /** Whether it is low, or the person asked the system to spare it. */
    fun isLow(): Boolean
}

class AndroidPower(private val context: Context) : Power {
    override fun isLow(): Boolean {
        if (context.getSystemService(PowerManager::class.java).isPowerSaveMode) return true
        // A sticky broadcast: nothing is registered.
        val battery = context.registerReceiver(null, IntentFilter(Intent.ACTION_BATTERY_CHANGED)) ?: return false
        if (battery.getIntExtra(BatteryManager.EXTRA_PLUGGED, 0) != 0) return false
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.P) return battery.getBooleanExtra(BatteryManager.EXTRA_BATTERY_LOW, false)
        val (level, scale) = battery.getIntExtra(BatteryManager.EXTRA_LEVEL, 100) to battery.getIntExtra(BatteryManager.EXTRA_SCALE, 100)
        return level * 100 <= scale * LOW_PERCENT
    }

    private companion object {
        /** Where the system itself says so, before it tells in the broadcast. */
        const val LOW_PERCENT = 15
    }
}
