package pitside.phone

import android.app.AlarmManager
import android.content.Context
import android.media.AudioAttributes
import android.media.AudioManager
import android.media.ToneGenerator
import android.os.Build
import android.os.Handler
import android.os.Looper
import android.os.SystemClock
import android.os.VibrationEffect
import android.os.Vibrator
import android.os.VibratorManager

/** Tells the end of a rest to somebody who does not look at the phone. */
interface Pulse {
    /** Once, after so many milliseconds; it takes the place of what was asked for before. */
    fun after(ms: Long)

    /** Not any more. */
    fun cancel()
}

/**
 * Vibrates, and sounds unless the phone is silent. An alarm with a listener wakes the device as
 * long as this process lives and needs no permission; where the process died, nothing is told,
 * and the time that is left is there again when the shell is opened.
 */
class AndroidPulse(private val context: Context) : Pulse {
    private val alarms = context.getSystemService(AlarmManager::class.java)
    private val main = Handler(Looper.getMainLooper())
    private val listener = AlarmManager.OnAlarmListener { tell() }

    override fun after(ms: Long) {
        cancel()
        alarms.setExact(AlarmManager.ELAPSED_REALTIME_WAKEUP, SystemClock.elapsedRealtime() + ms, "rest", listener, main)
    }

    override fun cancel() = alarms.cancel(listener)

    private fun tell() {
        val attributes = AudioAttributes.Builder().setUsage(AudioAttributes.USAGE_ALARM).build()
        @Suppress("DEPRECATION")
        vibrator().vibrate(VibrationEffect.createWaveform(PATTERN, -1), attributes)
        if (context.getSystemService(AudioManager::class.java).ringerMode == AudioManager.RINGER_MODE_NORMAL) sound()
    }

    private fun vibrator(): Vibrator = if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.S) {
        context.getSystemService(VibratorManager::class.java).defaultVibrator
    } else {
        @Suppress("DEPRECATION")
        context.getSystemService(Vibrator::class.java)
    }

    private fun sound() {
        // A device that has no tone to spare throws; the vibration was told.
        val tone = try {
            ToneGenerator(AudioManager.STREAM_ALARM, VOLUME)
        } catch (_: RuntimeException) {
            return
        }
        tone.startTone(ToneGenerator.TONE_PROP_BEEP2, SOUND_MS)
        main.postDelayed({ tone.release() }, SOUND_MS + 200L)
    }

    private companion object {
        /** Pause and vibration in turn, ms. */
        val PATTERN = longArrayOf(0, 350, 200, 350, 200, 700)
        const val VOLUME = 80
        const val SOUND_MS = 600
    }
}
