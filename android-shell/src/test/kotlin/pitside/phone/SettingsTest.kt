package pitside.phone

import android.content.Intent
import android.graphics.Color
import android.net.Uri
import android.view.View
import android.view.WindowInsetsController
import java.io.FileNotFoundException
import java.time.Duration
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
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

    /** Whether something is read out so. */
    private fun heard(spoken: String) = root.all().any { it.contentDescription == spoken }

    /** Opens the form of a set on an exercise off a box. */
    private fun aBox(mm: UInt) {
        val form = core { it.logSet(phone.device.env()) }.form
        val exercise = core { it.findExercises(phone.device.env(), "drop jump") }.first()
        core { it.keepSet(form.copy(exercise = exercise.id, leg = "", boxMm = mm)) }
        open("log-set")
    }

    @Test
    fun `units are chosen, at once and over a restart, and what was written down stays`() {
        start()
        aBox(300u)
        assertTrue(heard("Height of the box: 30 cm"))
        open("settings")
        tap("Units: Feet, inches, pounds")
        assertTrue(root.texts().toString(), root.texts().any { it.startsWith("Times, speeds and energies") })
        look("units-settings")
        kill()
        open("log-set")
        assertTrue("as high as it is, not as the nearest step", heard("Height of the box: 11.8 in"))
        look("units-log")
        tap("More, Height of the box")
        assertTrue(heard("Height of the box: 12 in"))
        tap(R.id.save)
        val session = core { it.today(phone.device.env()) }.sessions.single().id
        val said = { core { it.sessionLog(phone.device.env(), session) }.sets.single().text }
        assertTrue(said(), "box 12 in" in said())
        open("settings")
        tap("Units: Metres, centimetres, kilograms")
        assertTrue(said(), "box 30.5 cm" in said())
    }

    @Test
    fun `every step of a box reads as it was chosen`() {
        phone.language = "en-US"
        start()
        aBox(51u)
        for (inches in 4..58 step 2) {
            tap("More, Height of the box")
            assertTrue("$inches in", heard("Height of the box: $inches in"))
        }
        tap("More, Height of the box")
        assertTrue("there is no higher one", heard("Height of the box: 58 in"))
        for (inches in 56 downTo 2 step 2) tap("Less, Height of the box")
        assertTrue(heard("Height of the box: 2 in"))
        tap("Less, Height of the box")
        assertTrue(heard("Height of the box: not said"))
    }

    @Test
    fun `what else a person set for a region leaves the language alone`() {
        phone.language = "de-DE-u-fw-mon-mu-celsius"
        start()
        assertTrue(root.texts().toString(), "Heute" in root.texts())
    }

    @Config(qualifiers = "+night")
    @Test
    fun `in the sun it is black on white at one touch, also on a dark phone`() {
        RuntimeEnvironment.setFontScale(1.3f)
        start()
        val ground = { activity.get().parts.look.colours.ground }
        val dark = ground()
        tap("More")
        tap("Black on white, for the sun")
        assertEquals(Color.WHITE, ground())
        assertEquals("letters stay as large", 1.3f, activity.get().parts.context.resources.configuration.fontScale)
        assertTrue("and one is where one was", root.button("More").isSelected)
        look("sun-more")
        kill()
        assertEquals("before the first drawing", Color.WHITE, ground())
        val bars = activity.get().window.insetsController!!.systemBarsAppearance
        assertTrue("signs are seen on the bars", bars and WindowInsetsController.APPEARANCE_LIGHT_STATUS_BARS != 0)
        open("log-set")
        look("sun-log")
        open("settings")
        tap("Contrast: As the phone")
        assertEquals(dark, ground())
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
        val erase = root.findViewById<View>(R.id.hold)
        touch(erase, Hold.HOLD_MS / 4L)
        ShadowLooper.shadowMainLooper().idleFor(Duration.ofMillis(2L * Hold.HOLD_MS))
        assertTrue(phone.folder.exists())
        hold(erase)
        assertFalse(phone.folder.exists())
    }
}
