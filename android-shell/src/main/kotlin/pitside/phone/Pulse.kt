package pitside.phone

import android.app.AlarmManager
import android.app.PendingIntent
import android.content.BroadcastReceiver
import android.content.Context
import android.content.Intent
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

    /** The rest that ends at `at`, in milliseconds since the device started, is over. */
    fun over(at: Long)
}

/**
 * Vibrates, and sounds unless the phone is silent. Two alarms are set: one with a listener, which
 * is exact and needs no permission but ends with this process, and one that has the system start
 * the process anew. Where exact alarms are not granted the second may come late; then nothing is
 * told, for somebody may be on the runway by then.
 */
class AndroidPulse(private val context: Context) : Pulse {
    private val alarms = context.getSystemService(AlarmManager::class.java)
    private val main = Handler(Looper.getMainLooper())
    private var listener: AlarmManager.OnAlarmListener? = null

    /** The end that alarms are set for, two of them; `null` where none are, or in another process. */
    private var set: Long? = null

    /** The end that was told last. */
    private var told = 0L

    override fun after(ms: Long) {
        cancel()
        val at = SystemClock.elapsedRealtime() + ms
        val heard = AlarmManager.OnAlarmListener { over(at) }
        set = at
        listener = heard
        alarms.setExact(AlarmManager.ELAPSED_REALTIME_WAKEUP, at, "rest", heard, main)
        if (mayBeExact()) {
            alarms.setExactAndAllowWhileIdle(AlarmManager.ELAPSED_REALTIME_WAKEUP, at, lasting(at))
        } else {
            alarms.setAndAllowWhileIdle(AlarmManager.ELAPSED_REALTIME_WAKEUP, at, lasting(at))
        }
    }

    override fun cancel() {
        listener?.let(alarms::cancel)
        listener = null
        set = null
        alarms.cancel(lasting(0))
    }

    override fun over(at: Long) {
        // One of an earlier rest was on its way already; the rest that goes on keeps its own.
        if (at == told || set.let { it != null && it != at }) return
        told = at
        cancel()
        if (SystemClock.elapsedRealtime() - at <= LATE_MS) tell()
    }

    private fun mayBeExact() = Build.VERSION.SDK_INT < Build.VERSION_CODES.S || alarms.canScheduleExactAlarms()

    /** The alarm that outlives the process; there is one, whatever its end. */
    private fun lasting(at: Long): PendingIntent {
        val intent = Intent(context, RestReceiver::class.java).putExtra(RestReceiver.AT, at)
        return PendingIntent.getBroadcast(context, 0, intent, PendingIntent.FLAG_UPDATE_CURRENT or PendingIntent.FLAG_IMMUTABLE)
    }

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

        /** How much too late the end of a rest is still told: ours, no source. */
        const val LATE_MS = 10_000L
    }
}

/** Hears the alarm that outlives the process. */
class RestReceiver : BroadcastReceiver() {
    override fun onReceive(context: Context, intent: Intent) =
        (context.applicationContext as Phone).pulse.over(intent.getLongExtra(AT, 0))

    companion object {
        const val AT = "at"
    }
}
