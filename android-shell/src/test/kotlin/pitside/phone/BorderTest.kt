package pitside.phone

import org.junit.Assert.assertEquals
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.ScreenException
import uniffi.pitside_screen.SessionForm

/** The real library through the generated Kotlin, on this JVM. */
class BorderTest {
    @get:Rule val folder = TemporaryFolder()

    @Test
    fun `what was written and what was half filled in outlives a kill`() {
        val session = Killed.afterWriting(folder.root, "de")
        val book = Pitside.open(folder.root.path, SEED, morning("de", 5))
        book.use {
            val today = it.today(morning("de", 5))
            assertEquals("Mi, 25. Nov. 2026", today.title)
            assertEquals(listOf("session/$session"), today.sessions.map { row -> row.route })
            assertTrue(today.sessions[0].spoken, today.sessions[0].text.contains("Prellen"))
            assertTrue(today.carried, today.carried.startsWith("1 Satz nur auf diesem Gerät"))
            assertEquals("Mit dem begonnenen Satz weitermachen", today.actions[0].text)
            assertEquals(6.toUShort(), it.logSet(morning("de", 5)).form.reps)
            // The language is the call's, not the book's.
            assertEquals("Go on with the set that is filled in", it.today(morning("en")).actions[0].text)
            it.letGo()
        }
    }

    @Test
    fun `a screen is one call and an action is one more`() {
        Pitside.open(folder.root.path, SEED, morning()).use { book ->
            val counted = Counted(book)
            val border = counted.border
            border.today(morning())
            assertEquals(listOf("today"), counted.taken())
            val form = border.logSet(morning()).form
            assertEquals(listOf("logSet"), counted.taken())
            val session = border.beginSession(morning(), "", SessionForm("", "", ""))
            border.saveSets(morning(), session, form)
            assertEquals(listOf("beginSession", "saveSets"), counted.taken())
            assertEquals(1, border.today(morning()).sessions.size)
            book.letGo()
        }
    }

    @Test
    fun `what is refused arrives as an error that names the field`() {
        Pitside.open(folder.root.path, SEED, morning()).use { book ->
            val session = book.beginSession(morning(), "", SessionForm("", "", ""))
            val form = book.logSet(morning()).form.copy(sets = 0u)
            val refused = assertThrows(ScreenException.Refused::class.java) {
                book.saveSets(morning(), session, form)
            }
            assertEquals("sets", refused.field)
            book.letGo()
            assertThrows(ScreenException.Closed::class.java) { book.today(morning()) }
        }
    }
}
