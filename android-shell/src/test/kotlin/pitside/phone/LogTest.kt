package pitside.phone

import android.app.AlarmManager
import android.app.NotificationManager
import android.content.Intent
import android.view.View
import android.widget.EditText
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.ShadowLooper
import uniffi.pitside_screen.Choice
import uniffi.pitside_screen.Effort
import uniffi.pitside_screen.SetForm

/** A day on in minutes. */
private const val DAY = 24 * 60

/** Two exercises of an invented athlete, written down on one day. */
internal fun twoExercises(phone: TestPhone, write: (SetForm) -> Unit, all: List<Choice>, first: SetForm) {
    val pogo = first.copy(reps = 8u, sets = 2u)
    write(pogo)
    phone.minutes += 4
    write(first.copy(exercise = all.first { it.id != first.exercise }.id, reps = 5u, sets = 1u, leg = ""))
}

/** What the log of an invented athlete looks like on the second day. */
class LogScreensTest : EveryWay() {
    override fun screens(way: String) {
        val log = core { it.logSet(phone.device.env()) }
        twoExercises(phone, { form -> core { it.logToday(phone.device.env(), "", form) } }, log.exercises, log.form)
        phone.minutes = DAY
        start()
        open("log-set")
        look("$way-log-again")
        tap(core { it.logSet(phone.device.env()) }.all)
        look("$way-log-kinds")
        root.all().filterIsInstance<EditText>().first().setText("hop")
        look("$way-log-find")
        phone.minutes = DAY + 40
        open(core { it.repeatSession(phone.device.env(), "", "") }.replace("session", "effort"))
        look("$way-effort")
    }
}

class LogTest : ScreenTest() {
    private fun log(form: SetForm) = core { it.logToday(phone.device.env(), "", form) }
    private val now get() = core { it.logSet(phone.device.env()) }
    private fun sets() = core { it.sessionLog(phone.device.env(), core { it.today(phone.device.env()) }.sessions[0].id) }.sets

    private fun yesterday() {
        twoExercises(phone, { log(it) }, now.exercises, now.form)
        phone.minutes = DAY
    }

    @Test
    fun `a set of one of the last exercises is three touches from the first screen`() {
        twoExercises(phone, { log(it) }, now.exercises, now.form)
        phone.minutes = 5
        start()
        phone.counted.taken()
        val other = now.recent.first { !it.chosen }
        phone.counted.taken()
        tap("Log a set")
        tap(other.text)
        tap(R.id.save)
        assertEquals(listOf("logSet", "keepSet", "logSet", "logToday", "today"), phone.counted.taken())
        assertEquals(4, sets().size)
        assertEquals("as it was done last", 3, sets().count { it.text.startsWith("8 ×") })
    }

    @Test
    fun `a second tap on the button that saves writes nothing`() {
        start()
        open("log-set")
        val save = root.findViewById<View>(R.id.save)
        save.performClick()
        save.performClick()
        ShadowLooper.idleMainLooper()
        assertEquals(1, sets().size)
    }

    @Test
    fun `yesterday's session is one touch and shows what it wrote`() {
        yesterday()
        start()
        open("log-set")
        val again = now.again!!
        phone.counted.taken()
        tap(again.spoken)
        assertEquals(listOf("repeatSession", "sessionLog"), phone.counted.taken())
        assertEquals(3, sets().size)
        assertTrue(root.all().any { it.contentDescription == sets()[0].spoken })
        activity.get().back()
        assertNull("it is offered once", now.again)
    }

    @Test
    fun `an exercise is found by a part of its name or by its kind and survives a kill half way`() {
        start()
        open("log-set")
        assertTrue("nobody reads a list of all", root.texts().size < 40)
        tap("Another exercise")
        root.all().filterIsInstance<EditText>().first().setText("drop")
        ShadowLooper.idleMainLooper()
        val found = core { it.findExercises(phone.device.env(), "drop") }
        assertTrue(found.isNotEmpty() && found[0].text in root.all().mapNotNull { it.contentDescription }.toList())
        kill()
        assertEquals("drop", root.all().filterIsInstance<EditText>().first().text.toString())
        tap(found[0].text)
        assertEquals(found[0].id, now.form.exercise)
        tap("Another exercise")
        val kind = now.exercises.groupBy { it.group }.entries.last()
        tap("${kind.key} · ${kind.value.size}")
        tap(kind.value[0].text)
        assertEquals(kind.value[0].id, now.form.exercise)
    }

    @Test
    fun `how hard it was is asked half an hour later and answered in a few touches`() {
        log(now.form)
        phone.minutes = 40
        log(now.form)
        start()
        assertTrue("too early", "How hard was it?" !in root.texts())
        phone.minutes = 71
        start()
        phone.counted.taken()
        tap("How hard was it?")
        assertNull("nothing to save before the answer", root.findViewById<View>(R.id.save))
        tap("6")
        kill()
        phone.counted.taken()
        tap("More, Minutes, with the warm-up")
        tap(R.id.save)
        assertEquals("each tap is kept", listOf("keepEffort", "setEffort", "today"), phone.counted.taken())
        val session = core { it.today(phone.device.env()) }.sessions[0].id
        val page = core { it.effort(phone.device.env(), session) }
        assertEquals("60" to 45, page.scale.first { it.chosen }.id to page.minutes!!.toInt())
        assertTrue("How hard was it?" !in root.texts())
    }

    @Test
    fun `the system reminds only where somebody turned it on, and leads to the question`() {
        val alarms = shadowOf(phone.getSystemService(AlarmManager::class.java))
        val session = log(now.form).substringAfter('/')
        start()
        assertTrue(alarms.scheduledAlarms.isEmpty())
        open("effort/$session")
        tap(core { it.effort(phone.device.env(), session) }.remind)
        val asked = shadowOf(activity.get()).lastRequestedPermission.requestedPermissions
        assertEquals(listOf("android.permission.POST_NOTIFICATIONS"), asked.toList())
        activity.get().back()
        val alarm = alarms.scheduledAlarms.single()
        assertEquals(core { it.today(phone.device.env()) }.reminder!!.atMs, alarm.triggerAtMs)
        val sent = shadowOf(alarm.operation).savedIntent
        ReminderReceiver().onReceive(phone, sent)
        val shown = shadowOf(phone.getSystemService(NotificationManager::class.java)).allNotifications.single()
        assertEquals("How hard was it?", shown.extras.getString("android.title"))
        val leads: Intent = shadowOf(shown.contentIntent).savedIntent
        activity.newIntent(leads)
        assertTrue(root.texts().toString(), "Minutes, with the warm-up" in root.texts())
        // Once it is said there is nothing to remind of.
        core { it.setEffort(phone.device.env(), session, Effort(50u, 40u)) }
        activity.get().back()
        assertTrue(alarms.scheduledAlarms.isEmpty())
    }
}
