package pitside.phone.exchange

import android.app.Notification
import android.app.NotificationChannel
import android.app.NotificationManager
import android.app.PendingIntent
import android.app.Service
import android.content.Intent
import android.content.pm.ServiceInfo
import android.os.Build
import android.os.Handler
import android.os.IBinder
import android.os.Looper
import android.os.SystemClock
import pitside.phone.MainActivity
import pitside.phone.Phone
import pitside.phone.R
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.workWords

/**
 * Keeps the process while work goes on that a person began, and shows how far it is. It ends with
 * the work, and nothing begins by it.
 */
class WorkService : Service() {
    private val phone get() = application as Phone
    private val main = Handler(Looper.getMainLooper())
    private val again = Runnable { show() }
    private val since = SystemClock.elapsedRealtime()

    override fun onBind(intent: Intent?): IBinder? = null

    override fun onStartCommand(intent: Intent?, flags: Int, startId: Int): Int {
        if (intent?.action == CANCEL) phone.work.cancel()
        // Whoever is started for the foreground has to go there, also when the work was quicker.
        try {
            toForeground(notice(phone.work.job))
        } catch (_: IllegalStateException) {
            // The system lets it no longer, or not now: the work goes on unseen.
            stopSelf()
            return START_NOT_STICKY
        }
        show()
        // Where the process was killed, the person begins it again: nothing was lost.
        return START_NOT_STICKY
    }

    override fun onDestroy() {
        main.removeCallbacks(again)
        super.onDestroy()
    }

    private fun show() {
        main.removeCallbacks(again)
        val late = SystemClock.elapsedRealtime() - since > LONGEST_MS
        // Whoever did not end in such a time is called off; what arrived was kept.
        if (late) phone.work.cancel()
        val job = phone.work.job
        if (job == null || late) {
            stopForeground(STOP_FOREGROUND_REMOVE)
            stopSelf()
            return
        }
        getSystemService(NotificationManager::class.java).notify(NOTICE, notice(job))
        main.postDelayed(again, EVERY_MS)
    }

    private fun toForeground(notice: Notification) {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.Q) {
            startForeground(NOTICE, notice, ServiceInfo.FOREGROUND_SERVICE_TYPE_DATA_SYNC)
        } else {
            startForeground(NOTICE, notice)
        }
    }

    private fun notice(job: Job?): Notification {
        val env = phone.device.env()
        val words = workWords(env)
        val channel = NotificationChannel(CHANNEL, words.channel, NotificationManager.IMPORTANCE_LOW)
        getSystemService(NotificationManager::class.java).createNotificationChannel(channel)
        val open = Intent(this, MainActivity::class.java).putExtra(MainActivity.ROUTE, MainActivity.EXCHANGE).addFlags(Intent.FLAG_ACTIVITY_SINGLE_TOP or Intent.FLAG_ACTIVITY_CLEAR_TOP)
        val cancel = Intent(this, WorkService::class.java).setAction(CANCEL)
        return Notification.Builder(this, CHANNEL).apply {
            setSmallIcon(R.drawable.work)
            setContentTitle(words.title)
            setOngoing(true)
            setOnlyAlertOnce(true)
            setCategory(Notification.CATEGORY_PROGRESS)
            // On a locked screen stands what it is and nothing of whom.
            setVisibility(Notification.VISIBILITY_PUBLIC)
            setContentIntent(PendingIntent.getActivity(this@WorkService, MainActivity.BY_WORK, open, PendingIntent.FLAG_UPDATE_CURRENT or PendingIntent.FLAG_IMMUTABLE))
            if (job != null) {
                val progress = job.progress()
                setContentText(job.told(env))
                setProgress(progress.of.toInt(), progress.moved.toInt(), progress.of == 0UL)
                val off = PendingIntent.getService(this@WorkService, 1, cancel, PendingIntent.FLAG_IMMUTABLE)
                addAction(Notification.Action.Builder(null, words.cancel, off).build())
            }
        }.build()
    }

    companion object {
        const val CANCEL = "pitside.phone.CANCEL"
        const val NOTICE = 1
        private const val CHANNEL = "work"
        private const val EVERY_MS = 500L

        /** From Android 15 on the system ends the process of a sync that stays for six hours. */
        private const val LONGEST_MS = 5L * 60 * 60 * 1_000
    }
}
