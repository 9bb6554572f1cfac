package pitside.phone

import android.view.View
import android.widget.EditText
import org.junit.Assert.assertEquals
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Test
import org.robolectric.shadows.ShadowLooper

/** Invented siblings and friends with one phone among them. */
private val NAMES = listOf("Ada", "Bo", "Cleo", "Dag", "Eli")

class GroupScreensTest : EveryWay() {
    override fun screens(way: String) {
        for (name in NAMES) core { it.nameAthlete(phone.device.env(), it.group(phone.device.env()).naming, name) }
        start()
        open("group")
        tap("Ada")
        tap("Bo")
        tap("Dag")
        look("$way-group-roll")
        tap(R.id.save)
        look("$way-group-exercise")
        val group = core { it.group(phone.device.env()) }
        val hop = core { it.findExercises(phone.device.env(), "hop") }.first { choice ->
            core { it.keepGroup(phone.device.env(), group.form.copy(form = group.form.form.copy(exercise = choice.id, leg = "left"))) }
            core { it.group(phone.device.env()) }.exercise!!.legs.size > 1
        }
        assertTrue(hop.text.isNotEmpty())
        tap(R.id.save)
        tap(core { it.group(phone.device.env()) }.rows[0].spoken)
        look("$way-group-names")
        open("log-set")
        look("$way-log-shared")
        open("check-in")
        look("$way-check-in-shared")
    }
}

class GroupTest : ScreenTest() {
    private val group get() = core { it.group(phone.device.env()) }
    private fun row(name: String) = group.rows.first { it.name == name }

    private fun type(text: String) {
        root.all().filterIsInstance<EditText>().first().setText(text)
        ShadowLooper.idleMainLooper()
    }

    @Test
    fun `siblings share a phone, and each tap on a name is one set of theirs`() {
        start()
        open("group")
        assertNull("nobody is there yet", root.findViewById<View>(R.id.save))
        type("Ada")
        tap("Add this name")
        type("Bo")
        tap("Add this name")
        assertEquals(listOf("Ada", "Bo"), group.roll.map { it.text })
        phone.counted.taken()
        tap("Everybody")
        tap(R.id.save)
        tap(R.id.save)
        assertEquals(List(3) { listOf("keepGroup", "group") }.flatten(), phone.counted.taken())
        val ada = row("Ada").spoken
        phone.counted.taken()
        tap(ada)
        assertEquals(listOf("groupSet", "group"), phone.counted.taken())
        assertEquals("1 set", row("Ada").count)
        tap(row("Ada").spoken)
        assertEquals("a second tap at once is the rain's", "1 set", row("Ada").count)
        phone.minutes = 1
        tap(row("Ada").spoken)
        tap(row("Bo").spoken)
        kill()
        assertTrue(root.all().any { it.contentDescription == row("Ada").spoken })
        assertEquals("2 sets" to "1 set", row("Ada").count to row("Bo").count)
        root.button(row("Ada").spoken).performLongClick()
        ShadowLooper.idleMainLooper()
        assertEquals("1 set", row("Ada").count)
    }

    @Test
    fun `a set on a shared phone is nobody's before somebody is chosen`() {
        start()
        open("group")
        type("Ada")
        tap("Add this name")
        type("Bo")
        tap("Add this name")
        open("log-set")
        assertNull(root.findViewById<View>(R.id.save))
        tap("Bo")
        tap(R.id.save)
        val bo = group.roll.first { it.text == "Bo" }.id
        core { it.keepGroup(phone.device.env(), group.form.copy(step = "names", present = listOf(bo))) }
        assertEquals("1 set", row("Bo").count)
        open("check-in")
        tap("Ada")
        tap("No")
        tap(R.id.save)
        assertEquals("Ada", core { it.checkInForm(phone.device.env(), "") }.athletes.single { it.chosen }.text)
    }
}
