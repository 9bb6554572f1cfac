package pitside.phone

import com.sun.jna.NativeLibrary
import java.io.File
import java.security.MessageDigest
import org.junit.Assert.assertEquals
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.JobException
import uniffi.pitside_screen.MarkForm
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.ScreenException
import uniffi.pitside_screen.SessionForm
import uniffi.pitside_screen.readLentClip

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

    @Test
    fun `a clip is read through a lent descriptor, which stays the lender's`() {
        val clip = File(System.getProperty("user.dir"), "../tests/published/data/clips/sample_android_slow_motion.mp4")
        val c = NativeLibrary.getInstance("c")
        val lent = c.getFunction("open").invokeInt(arrayOf(clip.path, 0))
        try {
            checkNotNull(readLentClip(lent, Job.ofClip())).use { open ->
                val bytes = MessageDigest.getInstance("SHA-256").digest(clip.readBytes())
                assertEquals(bytes.joinToString("") { "%02x".format(it) }, open.name())
                Pitside.open(folder.root.path, SEED, morning()).use { book ->
                    val marked = book.marked(morning(), open, MarkForm("", "", "", "", null, null, emptyList()))
                    assertTrue(marked.clock.text, marked.clock.text.isNotEmpty())
                    book.letGo()
                }
            }
        } finally {
            assertEquals("the lender closes it", 0, c.getFunction("close").invokeInt(arrayOf(lent)))
        }
        assertThrows(ScreenException.Refused::class.java) { readLentClip(-1, Job.ofClip()) }
    }

    @Test
    fun `a job that was called off ends so, and one without a device says why`() {
        Pitside.open(folder.root.path, SEED, morning()).use { book ->
            Job().use { job ->
                assertThrows(JobException.NotReached::class.java) { book.sync(morning(), "", job) }
                assertThrows(JobException.Text::class.java) { book.join(morning(), "PITSIDE1:NOTHING", job) }
                job.cancel()
                assertTrue(job.progress().cancelled)
            }
            book.letGo()
        }
    }

    @Test
    fun `a panic arrives as an error and the book goes on and opens again`() {
        val process = ownProcess(Panicking::class.java, "$LIBRARY/examples", folder.root.path)
        val said = process.inputStream.bufferedReader().readLines()
        assertEquals(0, process.waitFor())
        assertEquals(said.toString(), 3, said.size)
        assertTrue(said[0], said[0].startsWith("error: raised on purpose at revision Ok("))
        assertEquals("after: 2 sets only on this device, the oldest from today", said[1])
        assertEquals("again: 2 sets only on this device, the oldest from today", said[2])
    }
}
