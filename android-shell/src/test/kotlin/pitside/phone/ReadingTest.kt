package pitside.phone

import android.app.Activity
import android.content.Intent
import android.net.Uri
import android.view.View
import android.widget.ProgressBar
import java.io.File
import java.util.concurrent.Executor
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper

/** A phone whose long work waits until a test lets it go on. */
class WaitingPhone : TakePhone() {
    private val waiting = ArrayDeque<Runnable>()

    override fun makeWorker(): Executor = Executor { waiting += it }

    /** Does what waits, and lets the screens hear of it. */
    fun goOn() {
        while (waiting.isNotEmpty()) waiting.removeFirst().run()
        ShadowLooper.idleMainLooper()
    }
}

/** A clip is read, and all data written, beside the book: both are seen and can be called off. */
@Config(application = WaitingPhone::class)
class ReadingTest : ScreenTest() {
    private val waits get() = phone as WaitingPhone
    private val env get() = phone.device.env()

    private fun choose(path: String): Uri {
        open("times")
        tap(core { it.takes(env) }.choose)
        val asked = shadowOf(activity.get()).nextStartedActivityForResult
        val place = waits.kept.put(path)
        shadowOf(activity.get()).receiveResult(asked.intent, Activity.RESULT_OK, Intent().setData(place))
        ShadowLooper.idleMainLooper()
        return place
    }

    private fun bars() = root.all().filterIsInstance<ProgressBar>().toList()
    private val later get() = core { it.takes(env) }.later

    @Test
    fun `a clip is read while the book goes on answering, and is marked once it is read`() {
        start()
        choose(CLIP)
        assertTrue(root.texts().toString(), "The clip is being read: 0 %" in root.texts())
        assertEquals(1, bars().size)
        look("reading")
        // The book is free meanwhile.
        core { it.logToday(env, "", it.logSet(env).form) }
        assertTrue("it is not chosen before it is read", later.isEmpty())
        waits.goOn()
        assertEquals("it is on the list and open", 1, later.size)
        assertNotNull(root.findViewById<View>(R.id.strip) ?: root.findViewById<View>(R.id.save))
        activity.get().back()
        assertTrue(bars().isEmpty())
    }

    @Test
    fun `a reading that is called off leaves no clip and gives the right back`() {
        start()
        val place = choose(CLIP)
        tap(R.id.cancel)
        waits.goOn()
        assertTrue(later.isEmpty())
        assertTrue(bars().isEmpty())
        assertEquals(listOf(place.toString()), waits.kept.letGo)
        assertNotNull("another can be chosen", root.button(core { it.takes(env) }.choose))
        choose(CLIP)
        waits.goOn()
        assertEquals(1, later.size)
        assertEquals("its right is kept", 1, waits.kept.letGo.size)
    }

    @Test
    fun `whoever went on meanwhile is not moved and finds the clip on the list`() {
        start()
        choose(CLIP)
        activity.get().back()
        open("course")
        val before = root.texts()
        waits.goOn()
        assertEquals(before, root.texts())
        activity.get().back()
        open("times")
        assertTrue(root.texts().toString(), later.single().name in root.texts())
        assertTrue(bars().isEmpty())
    }

    @Test
    fun `a shell that is drawn anew goes on watching, and the clip is marked there`() {
        start()
        choose(CLIP)
        kill()
        assertEquals(1, bars().size)
        assertTrue("nothing of it is in the book yet, so a process that dies leaves nothing half", later.isEmpty())
        waits.goOn()
        assertEquals(1, later.size)
        assertTrue(bars().isEmpty())
        assertNotNull(root.findViewById<View>(R.id.save))
    }

    @Test
    fun `a clip of the list is read once more before it is marked, and that can be called off`() {
        start()
        choose(CLIP)
        waits.goOn()
        choose(OTHER)
        waits.goOn()
        activity.get().back()
        // The one before is no longer open.
        val route = later.last().route
        open(route)
        assertEquals(1, bars().size)
        tap(R.id.cancel)
        waits.goOn()
        assertTrue("back on the list", later.all { it.name in root.texts() })
        open(route)
        waits.goOn()
        assertNotNull(root.findViewById<View>(R.id.strip) ?: root.findViewById<View>(R.id.save))
    }

    @Test
    fun `a file that is no clip is said, and another can be chosen`() {
        start()
        val place = choose("README.md")
        waits.goOn()
        assertTrue(root.texts().toString(), "That did not work." in root.texts())
        assertEquals(listOf(place.toString()), waits.kept.letGo)
        activity.get().back()
        open("times")
        assertFalse("it is said once", "That did not work." in root.texts())
    }

    @Test
    fun `all data are written beside the book, seen, and called off without a trace`() {
        core { it.logToday(env, "", it.logSet(env).form) }
        val folder = File(phone.noBackupFilesDir, "shared/export")
        start()
        open("settings")
        tap("Pass on all data …")
        assertTrue(root.texts().toString(), root.texts().any { it.startsWith("Collecting the data") })
        look("exporting")
        tap(R.id.cancel)
        waits.goOn()
        assertTrue(root.texts().toString(), "Called off. No file was written." in root.texts())
        assertEquals(emptyList<String>(), folder.list().orEmpty().toList())
        assertNull(shadowOf(activity.get()).nextStartedActivity)
        tap(core { it.settings(env) }.close)
        // Whoever went away passes it on later.
        tap("Pass on all data …")
        activity.get().back()
        waits.goOn()
        assertNull(shadowOf(activity.get()).nextStartedActivity)
        open("settings")
        look("exported")
        tap(core { it.settings(env) }.share)
        assertEquals(Intent.ACTION_CHOOSER, shadowOf(activity.get()).nextStartedActivity.action)
    }

    @Test
    fun `half a file of a process that died is cleared away`() {
        val folder = File(phone.noBackupFilesDir, "shared/export").apply { mkdirs() }
        val (half, whole) = File(folder, "pitside-2026-11-24.json.part") to File(folder, "pitside-2026-11-24.json")
        listOf(half, whole).forEach { it.writeText("{") }
        phone.onCreate()
        assertFalse(half.exists())
        assertTrue(whole.exists())
    }

    private companion object {
        const val CLIP = "tests/published/data/clips/sample_android_slow_motion.mp4"
        const val OTHER = "tests/render/clips/bounds-240.mp4"
    }
}
