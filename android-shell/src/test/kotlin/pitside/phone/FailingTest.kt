package pitside.phone

import java.io.FileNotFoundException
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.annotation.Config
import pitside.phone.exchange.Work
import pitside.phone.exchange.failedExchange
import uniffi.pitside_screen.BookTrouble
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.ScreenException
import uniffi.pitside_screen.SessionForm

/** A phone whose calls are not counted: what counts them would hide what they fail with. */
class UncountedPhone : TestPhone() {
    override fun open(): PitsideInterface = Pitside.open(folder.path, key, device.env()).also { chosen = it.chosen() }
}

/** A call that failed is said in the language of the phone, with what a person may do. */
@Config(application = UncountedPhone::class, qualifiers = "de-w360dp-h740dp-xhdpi")
class FailingTest : ScreenTest() {
    private fun said(why: Exception) = why.inWords(phone.device.env())

    private fun shows(vararg lines: String) {
        val shown = root.texts()
        assertTrue(shown.toString(), listOf("Das hat nicht geklappt.", *lines).all { it in shown })
        assertEquals(emptyList<String>(), english(root))
    }

    @Test
    fun `an exercise that is not there is said in German`() {
        start()
        open("exercise/00000000-0000-0000-0000-000000000009")
        shows("Dieses Telefon kennt diese Übung nicht oder nicht mehr.", "Geh zurück: Die Seite davor zeigt, was es jetzt gibt.")
        look("failing")
        tap("Zurück")
        assertFalse("Das hat nicht geklappt." in root.texts())
    }

    @Test
    fun `a book that is closed is said in German`() {
        start()
        core { it.letGo() }
        open("course")
        shows("Das Buch ist zu.", "Schließe die App und öffne sie wieder.")
    }

    @Test
    fun `what the core says in an error goes across the border and back as it was`() {
        val session = core { it.beginSession(phone.device.env(), "", SessionForm("", "", "")) }
        val form = core { it.logSet(phone.device.env()) }.form.copy(sets = 0u)
        val refused = try {
            core { it.saveSets(phone.device.env(), session, form) }
            error("nothing was refused")
        } catch (e: ScreenException.Refused) {
            e
        }
        assertEquals("Sätze: „0“ geht nicht. Möglich ist: eine ganze Zahl von 1 bis 50.", said(refused).text)
        val full = said(ScreenException.Book(BookTrouble.FULL, "the disk is full"))
        assertTrue(full.toString(), full.text.startsWith("Der Speicher dieses Telefons ist voll.") && full.mayDo.startsWith("Mach Platz"))
    }

    @Test
    fun `work that failed says so in German`() {
        val work = Work(phone.book, { it.run() }, { it.run() }, { Job() }, { failedExchange(it, phone.device.env()) })
        fun end(why: Exception) = work.run {
            begin { _, _ -> throw why }
            end!!.also { seen() }
        }
        val gone = end(FileNotFoundException("content://clips/7"))
        assertEquals("Dieses Telefon kennt diese Datei nicht oder nicht mehr." to "Wähle sie noch einmal.", gone.text to gone.more)
        assertEquals(gone, end(SecurityException("Permission Denial: reading provider")))
        val inside = end(IllegalStateException("called `Option::unwrap()` on a `None` value"))
        assertEquals("In der App ging etwas schief. Was vorher gesichert war, bleibt.", inside.text)
        assertFalse(inside.done)
    }
}
