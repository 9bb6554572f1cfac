package pitside.phone

import android.Manifest
import android.app.AlarmManager
import android.app.Notification
import android.app.NotificationChannel
import android.app.NotificationManager
import android.app.PendingIntent
import android.content.BroadcastReceiver
import android.content.Context
import android.content.Intent
import android.content.pm.PackageManager
import android.os.Build
import uniffi.pitside_screen.Reminder

/** Reminds of a question when it is due; without it, the first screen asks all the same. */
interface Reminders {
    /** Reminds of this one and of no other; of none where it is `null`. */
    fun set(reminder: Reminder?)

    /** Whether the system lets this app notify. */
    fun mayNotify(): Boolean
}

/**
 * One alarm of the system's. It is inexact, for half an hour is a habit and no appointment, so
 * no further permission is needed. After a restart of the phone it is set again when the first
 * screen is next opened.
 */
class AlarmReminders(private val context: Context) : Reminders {
    override fun set(reminder: Reminder?) {
        val alarms = context.getSystemService(AlarmManager::class.java)
        val intent = Intent(context, ReminderReceiver::class.java)
            .putExtra(TEXT, reminder?.text.orEmpty())
            .putExtra(ROUTE, reminder?.route.orEmpty())
        // The one that is set, or was, is replaced: intents that differ in extras alone are one.
        val flags = PendingIntent.FLAG_UPDATE_CURRENT or PendingIntent.FLAG_IMMUTABLE
        val pending = PendingIntent.getBroadcast(context, 0, intent, flags)
        if (reminder == null) alarms.cancel(pending) else alarms.setAndAllowWhileIdle(AlarmManager.RTC_WAKEUP, reminder.atMs, pending)
    }

    override fun mayNotify(): Boolean =
        Build.VERSION.SDK_INT < Build.VERSION_CODES.TIRAMISU ||
            context.checkSelfPermission(Manifest.permission.POST_NOTIFICATIONS) == PackageManager.PERMISSION_GRANTED

    companion object {
        const val TEXT = "text"
        const val ROUTE = MainActivity.ROUTE
    }
}

/** Shows the question when its alarm comes. */
class ReminderReceiver : BroadcastReceiver() {
    override fun onReceive(context: Context, intent: Intent) {
        val text = intent.getStringExtra(AlarmReminders.TEXT).orEmpty()
        val manager = context.getSystemService(NotificationManager::class.java)
        manager.createNotificationChannel(NotificationChannel(CHANNEL, text, NotificationManager.IMPORTANCE_DEFAULT))
        val open = Intent(context, MainActivity::class.java)
            .putExtra(AlarmReminders.ROUTE, intent.getStringExtra(AlarmReminders.ROUTE))
            .addFlags(Intent.FLAG_ACTIVITY_CLEAR_TOP or Intent.FLAG_ACTIVITY_SINGLE_TOP)
        val flags = PendingIntent.FLAG_UPDATE_CURRENT or PendingIntent.FLAG_IMMUTABLE
        val shown = Notification.Builder(context, CHANNEL)
            .setSmallIcon(R.drawable.work)
            .setContentTitle(text)
            .setContentIntent(PendingIntent.getActivity(context, MainActivity.BY_REMINDER, open, flags))
            .setAutoCancel(true)
            .build()
        manager.notify(0, shown)
    }

    private companion object {
        const val CHANNEL = "effort"
    }
}
