package pitside.phone

import org.junit.Assert.assertEquals
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder
import uniffi.pitside_screen.Pitside

/** The invented squad behind the phone's library. */
class DemoBookTest {
    @get:Rule val folder = TemporaryFolder()

    private fun <T> open(who: String, call: (Pitside) -> T): T =
        Pitside.open(folder.root.path, DemoBook.copy(who, folder.root), DemoBook.evening()).use { book ->
            call(book).also { book.letGo() }
        }

    @Test
    fun `the coach's book holds the squad`() {
        val squad = open(DemoBook.COACH) { it.squad(DemoBook.evening()) }
        val names = listOf("Aune", "Bram", "Cleo", "Dario", "Elva", "Finn", "Greta", "Hana", "Ivo")
        assertEquals("Harbour Lane jumps" to names, squad.title to squad.athletes.map { it.name })
        assertEquals("28 Mar 2026", squad.week.substringAfter("28").let { "28$it" }.take(11))
    }

    @Test
    fun `an athlete's book holds the athlete's own`() {
        val (today, athlete) = open("aune") {
            val row = it.squad(DemoBook.evening()).athletes.single { row -> row.name == "Aune" }
            it.today(DemoBook.evening()) to it.athlete(DemoBook.evening(), row.id, "")
        }
        assertEquals("Sat 28 Mar 2026", today.title)
        assertEquals("Aune" to 8, athlete.title to athlete.rows.first().weeks.size)
        assertEquals("a timed clip", 1, athlete.takes.size)
    }
}
