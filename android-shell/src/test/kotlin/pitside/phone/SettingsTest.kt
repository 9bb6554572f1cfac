package pitside.phone

import android.content.Intent
import android.net.Uri
import android.view.View
import java.io.FileNotFoundException
import java.time.Duration
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.Shadows.shadowOf
import org.robolectric.shadows.ShadowLooper
import pitside.phone.look.Hold

/** What is chosen for the phone, who sees what, taking along and erasing. */
class SettingsTest : EveryWay() {
    private fun sharing() = core { it.settings(phone.device.env()) }.sharing.single().route

    override fun screens(way: String) {
        phone.demo("aune")
        start()
        open("settings")
        look("$way-settings")
        open(sharing())
        look("$way-sharing")
        open("erase-here")
        look("$way-erase-here")
    }

    @Test
    fun `each is one call`() {
        phone.demo("aune")
        start()
        val sharing = sharing()
        phone.counted.taken()
        for ((route, call) in listOf("settings" to "settings", sharing to "sharing", "erase-here" to "confirmEraseHere")) {
            open(route)
            assertEquals(listOf(call), phone.counted.taken())
        }
    }

    @Test
    fun `the language is chosen, at once and over a restart`() {
        start()
        open("settings")
        tap("Language: Deutsch")
        assertTrue(root.texts().toString(), "Einstellungen" in root.texts())
        kill()
        assertTrue("Einstellungen" in root.texts())
        assertEquals("de", phone.device.env().language)
        activity.get().back()
        assertTrue(root.texts().toString(), "Heute" in root.texts())
        open("settings")
        tap("Sprache: Wie das Telefon")
        assertTrue("Settings" in root.texts())
    }

    @Test
    fun `the private part is given to an audience and taken back`() {
        start()
        open(sharing())
        val coach = { core { it.sharing(phone.device.env(), "") }.rows.first { it.id == "private" } }
        assertFalse(coach().given)
        phone.counted.taken()
        tap("Share: ${coach().text}")
        assertEquals(listOf("sharing", "shareWith", "sharing"), phone.counted.taken())
        assertTrue(coach().given)
        assertTrue(root.all().any { it.contentDescription == coach().spoken })
        tap("Stop sharing: ${coach().text}")
        assertFalse(coach().given)
    }

    @Test
    fun `all data are passed on as one file, which alone can be read`() {
        phone.demo("aune")
        start()
        open("settings")
        tap("Pass on all data …")
        val chooser = shadowOf(activity.get()).nextStartedActivity
        assertEquals(Intent.ACTION_CHOOSER, chooser.action)
        val send = chooser.getParcelableExtra(Intent.EXTRA_INTENT, Intent::class.java)!!
        assertTrue(send.flags and Intent.FLAG_GRANT_READ_URI_PERMISSION != 0)
        val uri = send.getParcelableExtra(Intent.EXTRA_STREAM, Uri::class.java)!!
        val resolver = activity.get().contentResolver
        val text = resolver.openInputStream(uri)!!.use { it.readBytes().decodeToString() }
        assertTrue(text.take(400), "\"Aune\"" in text && "\"kind\": \"set\"" in text)
        assertEquals("application/json", resolver.getType(uri))
        for (other in listOf("../seed", "export/..%2Fseed", "export/nothing.json")) {
            val elsewhere = Uri.parse("content://pitside.phone.shared/$other")
            assertThrows(FileNotFoundException::class.java) { resolver.openInputStream(elsewhere)?.close() }
        }
        tap("Pass on all data …")
        assertTrue("once more", shadowOf(activity.get()).nextStartedActivity != null)
    }

    @Test
    fun `a tap erases nothing, and holding does`() {
        phone.demo("aune")
        start()
        open("erase-here")
        val erase = root.findViewById<View>(R.id.erase)
        touch(erase, Hold.HOLD_MS / 4L)
        ShadowLooper.shadowMainLooper().idleFor(Duration.ofMillis(2L * Hold.HOLD_MS))
        assertTrue(phone.folder.exists())
        hold(erase)
        assertFalse(phone.folder.exists())
    }
}
