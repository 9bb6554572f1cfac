package pitside.phone

import android.view.View
import android.widget.EditText
import org.junit.Assert.assertEquals
import org.junit.Assert.assertSame
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.shadows.ShadowLooper
import uniffi.pitside_screen.ExerciseQuery
import uniffi.pitside_screen.Exercises

/** The exercises, and one of them. */
class CatalogueTest : EveryWay() {
    private fun exercises(search: String = "", sort: String = ""): Exercises = core { it.exercises(phone.device.env(), ExerciseQuery(search, sort, "")) }

    override fun screens(way: String) {
        start()
        open("exercises")
        look("$way-exercises")
        val group = exercises().groups.first()
        tap("${group.label} (${group.rows.size})")
        look("$way-exercises-open")
        tapSpoken(group.rows.first().spoken)
        tap(phone.headings().numbers)
        tap(phone.headings().likeness)
        look("$way-exercise")
    }

    @Test
    fun `the list is one call, an order one more, and an exercise one`() {
        start()
        phone.counted.taken()
        open("exercises")
        assertEquals(listOf("exercises"), phone.counted.taken())
        tap("In the order of: ${exercises().sorts.first { it.chosen }.text}")
        phone.counted.taken()
        val landing = exercises().sorts.first { it.id == "landing" }.text
        phone.counted.taken()
        tap(landing)
        assertEquals(listOf("exercises"), phone.counted.taken())
        val group = exercises(sort = "landing").groups.first()
        tap("${group.label} (${group.rows.size})")
        val shown = root.all().mapNotNull { it.contentDescription?.toString() }.toList()
        assertEquals(group.rows.map { it.spoken }, shown.filter { spoken -> group.rows.any { it.spoken == spoken } })
        phone.counted.taken()
        tapSpoken(group.rows.first().spoken)
        assertEquals(listOf("exercise"), phone.counted.taken())
        assertTrue(group.rows.first().name in root.texts())
    }

    @Test
    fun `what is typed is searched for, and the field stays where it is`() {
        start()
        open("exercises")
        val field = root.findViewById<EditText>(R.id.search)
        field.setText("hurdle")
        ShadowLooper.idleMainLooper()
        val found = exercises("hurdle").groups.flatMap { it.rows }
        assertTrue(found.isNotEmpty() && found.all { it.name in root.texts() })
        assertSame(field, root.findViewById<View>(R.id.search))
        look("exercises-found")
        kill()
        assertEquals("hurdle", root.findViewById<EditText>(R.id.search).text.toString())
        assertTrue(found.all { it.name in root.texts() })
    }

    @Test
    fun `an exercise that is not there is said`() {
        start()
        open("exercise/00000000-0000-0000-0000-000000000009")
        assertTrue(root.texts().toString(), phone.words().failed in root.texts())
        tap("Back")
        assertTrue("Wed 25 Nov 2026" in root.texts())
    }
}
