package pitside.phone

import android.app.AlarmManager
import android.app.Application
import android.os.SystemClock
import android.os.VibratorManager
import java.time.Duration
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Before
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowAlarmManager
import org.robolectric.shadows.ShadowLooper
import org.robolectric.shadows.ShadowSystemClock

/** The end of a rest, told once: by this process, or by the one that the system starts for it. */
@RunWith(RobolectricTestRunner::class)
@Config(application = TestPhone::class, sdk = [34])
class PulseTest {
    private val app: Application = RuntimeEnvironment.getApplication()
    private val phone get() = app as TestPhone
    private val alarms = shadowOf(app.getSystemService(AlarmManager::class.java))
    private val vibrator = shadowOf(app.getSystemService(VibratorManager::class.java).defaultVibrator)

    @Before
    fun granted() = ShadowAlarmManager.setCanScheduleExactAlarms(true)

    @Test
    fun aRestIsToldOnceByAProcessThatLives() {
        phone.pulse.after(120_000)
        assertEquals("one that is heard here, one that outlives the process", 2, alarms.scheduledAlarms.size)
        val at = SystemClock.elapsedRealtime() + 120_000
        assertTrue(alarms.scheduledAlarms.all { it.triggerAtMs == at && it.windowLengthMs == AlarmManager.WINDOW_EXACT })
        ShadowSystemClock.advanceBy(Duration.ofSeconds(120))
        alarms.scheduledAlarms.first { it.onAlarmListener != null }.onAlarmListener!!.onAlarm()
        assertTrue(vibrator.isVibrating)
        assertEquals("the other one is called off", 0, alarms.scheduledAlarms.size)
        app.getSystemService(VibratorManager::class.java).defaultVibrator.cancel()
        phone.pulse.over(at)
        assertFalse("told twice", vibrator.isVibrating)
    }

    @Test
    fun aProcessThatTheSystemStartsTellsIt() {
        phone.pulse.after(90_000)
        val lasting = alarms.scheduledAlarms.single { it.operation != null }.operation!!
        ShadowSystemClock.advanceBy(Duration.ofSeconds(91))
        lasting.send()
        ShadowLooper.idleMainLooper()
        assertTrue(vibrator.isVibrating)
    }

    @Test
    fun anAlarmThatComesLateTellsNothing() {
        ShadowAlarmManager.setCanScheduleExactAlarms(false)
        phone.pulse.after(90_000)
        val lasting = alarms.scheduledAlarms.single { it.operation != null }
        assertFalse(lasting.windowLengthMs == AlarmManager.WINDOW_EXACT)
        ShadowSystemClock.advanceBy(Duration.ofSeconds(90 + 60))
        lasting.operation!!.send()
        ShadowLooper.idleMainLooper()
        assertFalse(vibrator.isVibrating)
    }

    @Test
    fun aRestThatWasCalledOffIsNotTold() {
        phone.pulse.after(60_000)
        phone.pulse.cancel()
        assertEquals(0, alarms.scheduledAlarms.size)
        phone.pulse.after(30_000)
        phone.pulse.after(60_000)
        assertEquals("the later one takes its place", 2, alarms.scheduledAlarms.size)
    }
}
