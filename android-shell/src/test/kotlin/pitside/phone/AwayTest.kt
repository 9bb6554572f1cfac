package pitside.phone

import android.Manifest.permission.CAMERA
import android.app.Activity
import android.app.NotificationManager
import android.content.Intent
import android.graphics.RectF
import android.util.Size
import android.view.View
import android.view.accessibility.AccessibilityManager
import android.view.accessibility.AccessibilityNodeInfo.ACTION_ACCESSIBILITY_FOCUS
import java.io.File
import java.util.concurrent.CountDownLatch
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotSame
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Robolectric
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper
import pitside.phone.exchange.CameraSight
import pitside.phone.exchange.Work
import pitside.phone.exchange.WorkService
import pitside.phone.exchange.failedExchange
import uniffi.pitside_screen.ExchangeEnd
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.PitsideInterface

/** Whoever goes away from the shell takes the camera, the decoder and their place with them, or finds them again. */
@Config(application = ExchangePhone::class)
class AwayTest : ScreenTest() {
    private fun away() {
        activity.pause().stop()
    }

    private fun back() {
        activity.restart().start().resume()
        ShadowLooper.idleMainLooper()
    }

    @Test
    fun `the camera is let go in the background and there again after it`() {
        val camera = (phone as ExchangePhone).camera
        shadowOf(phone).grantPermissions(CAMERA)
        start()
        open("join")
        tap(core { it.joinForm(phone.device.env()) }.scan)
        assertTrue(camera.isOpen)
        away()
        assertFalse(camera.isOpen)
        back()
        assertTrue(camera.isOpen)
        tap(core { it.joinForm(phone.device.env()) }.stopScanning)
        away()
        back()
        assertFalse("it was closed by hand", camera.isOpen)
    }

    @Test
    fun `a picture of the camera covers its view and is not stretched however the phone is held`() {
        val view = RectF(0f, 0f, 720f, 600f)
        for ((turned, aspect) in listOf(0 to 720f / 1280, 90 to 1280f / 720, 180 to 720f / 1280, 270 to 1280f / 720)) {
            val shown = RectF(view).also { CameraSight.upright(view, Size(1280, 720), 90, turned).mapRect(it) }
            assertEquals("$turned", aspect, shown.width() / shown.height(), 0.001f)
            assertTrue("$turned: $shown", shown.width() >= 719.9f && shown.height() >= 599.9f)
            assertEquals(view.centerX() to view.centerY(), shown.centerX() to shown.centerY())
        }
    }

    @Test
    fun `a reader stays where it was when the screen is drawn anew`() {
        shadowOf(phone.getSystemService(AccessibilityManager::class.java)).apply {
            setEnabled(true)
            setTouchExplorationEnabled(true)
        }
        start()
        open("check-in")
        val before = root.button("No")
        before.performAccessibilityAction(ACTION_ACCESSIBILITY_FOCUS, null)
        assertTrue(before.isAccessibilityFocused)
        tap("No")
        assertNotSame(before, root.button("No"))
        assertEquals(root.button("No"), root.all().single { it.isAccessibilityFocused })
    }

    @Test
    fun `a file that comes while another is taken in has its turn once that end was seen`() {
        val waiting = ArrayDeque<Runnable>()
        val work = Work(phone.book, { waiting += it }, { it.run() }, { Job() }, { failedExchange(it, phone.device.env()) })
        val done = mutableListOf<String>()
        val take = { name: String ->
            { _: PitsideInterface, _: Job ->
                done += name
                ExchangeEnd(true, name, "", false, "")
            }
        }
        assertTrue(work.begin(take("first")))
        assertFalse(work.begin(take("none")))
        work.follow(take("second"))
        waiting.removeFirst().run()
        assertEquals("first" to 0, work.end?.text to waiting.size)
        work.seen()
        waiting.removeFirst().run()
        assertEquals(listOf("first", "second"), done)
        assertEquals("second", work.end?.text)
    }

    @Test
    fun `the notice of a sync leads to the exchange and a reminder still to its question`() {
        val reminder = Intent(phone, ReminderReceiver::class.java).putExtra(AlarmReminders.TEXT, "asked").putExtra(AlarmReminders.ROUTE, "course")
        ReminderReceiver().onReceive(phone, reminder)
        val end = CountDownLatch(1)
        phone.work.begin { _, _ ->
            end.await()
            ExchangeEnd(true, "", "", false, "")
        }
        val service = Robolectric.buildService(WorkService::class.java).create().startCommand(0, 1)
        val notice = shadowOf(service.get()).lastForegroundNotification
        end.countDown()
        val asked = shadowOf(phone.getSystemService(NotificationManager::class.java)).allNotifications.first { it.extras.getString("android.title") == "asked" }
        val leads = { of: android.app.Notification -> shadowOf(of.contentIntent).savedIntent.getStringExtra(MainActivity.ROUTE) }
        assertEquals("exchange", leads(notice))
        assertEquals("course", leads(asked))
        assertTrue("one has a request of its own", shadowOf(notice.contentIntent).requestCode != shadowOf(asked.contentIntent).requestCode)
    }

    @Test
    fun `a copy that was left where the process died goes at the next start`() {
        val left = File.createTempFile("taken-in", null, phone.noBackupFilesDir)
        phone.onCreate()
        assertFalse(left.exists())
    }

    @Config(qualifiers = "en-w740dp-h360dp-land-xhdpi")
    @Test
    fun `on its side what was done has most of the height`() {
        start()
        val page = root.findViewById<View>(R.id.page)
        assertTrue("${page.height} of ${root.height}", page.height * 2 > root.height)
    }
}

/** A clip is open while somebody goes away. */
@Config(application = TakePhone::class)
class AwayFromClipTest : ScreenTest() {
    @Test
    fun `the decoder is let go in the background and another one taken after it`() {
        val clips = (phone as TakePhone).kept
        start()
        open("times")
        tap(core { it.takes(phone.device.env()) }.choose)
        val asked = shadowOf(activity.get()).nextStartedActivityForResult
        val place = clips.put("tests/published/data/clips/sample_android_slow_motion.mp4")
        shadowOf(activity.get()).receiveResult(asked.intent, Activity.RESULT_OK, Intent().setData(place))
        ShadowLooper.idleMainLooper()
        val before = clips.drawn
        assertFalse(before.closed)
        activity.pause().stop()
        assertTrue(before.closed)
        activity.restart().start().resume()
        assertNotSame(before, clips.drawn)
        assertTrue("it is asked for what is shown", clips.drawn.wanted.isNotEmpty())
        activity.get().back()
        assertTrue(clips.drawn.closed)
    }
}
