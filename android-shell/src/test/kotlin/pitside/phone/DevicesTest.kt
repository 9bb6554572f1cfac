package pitside.phone

import android.view.View
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder
import uniffi.pitside_screen.DeviceRow
import uniffi.pitside_screen.MemberRow

/** The devices of the demo's squad, on the coach's phone and on an athlete's; what is kept and not counted. */
class DevicesTest : EveryWay() {
    @get:Rule val folder = TemporaryFolder()

    private val env get() = phone.device.env()
    private val screen get() = core { it.devices(env) }
    private val bar: View? get() = root.findViewById(R.id.hold)

    private fun device(name: String): DeviceRow = screen.devices.first { name in it.title }
    private fun member(name: String): MemberRow = screen.members.first { it.name == name }
    private fun DeviceRow.button(action: String) = "${actions.first { it.id == action }.text}: $title, $key"
    private fun MemberRow.button(action: String) = "${actions.first { it.id == action }.text}: $name"

    /** A phone is lost, is removed, and turns up with a set that was logged after that. */
    private fun late(name: String) {
        val id = device(name).id
        core { it.removeDevice(env, id) }
        Elsewhere(name.lowercase(), folder.root, env).use { lost ->
            lost.book.logToday(env, "", lost.book.logSet(env).form)
            core { lost.handTo(it) }
        }
    }

    override fun screens(way: String) {
        phone.demo(DemoBook.COACH)
        start()
        late("Elva")
        // Keys are drawn anew with every demo.
        open("devices")
        tap(phone.headings().members)
        look("$way-devices", varies = true)
        open(device("Aune").actions.first { it.id == "remove" }.route)
        look("$way-remove", varies = true)
        open("aside")
        look("$way-aside", varies = true)
        open(member("Aune").actions.first { it.id == "erase" }.route)
        look("$way-erase")
    }

    @Test
    fun `each is one call`() {
        phone.demo(DemoBook.COACH)
        start()
        val (remove, erase) = device("Aune").actions.first { it.id == "remove" }.route to member("Aune").actions.first { it.id == "erase" }.route
        phone.counted.taken()
        for ((route, call) in listOf("devices" to "devices", "aside" to "aside", remove to "confirmRemoval", erase to "confirmErasure")) {
            open(route)
            assertEquals(listOf(call), phone.counted.taken())
        }
    }

    @Test
    fun `a lost phone is removed by holding and not by a tap, and may come back`() {
        phone.demo(DemoBook.COACH)
        start()
        open("devices")
        val before = device("Aune")
        tap(before.button("remove"))
        assertTrue(root.texts().toString(), root.texts().any { before.title in it && before.short in it })
        touch(bar!!, TAP_MS)
        assertTrue("rain", device("Aune").removed.isEmpty())
        phone.counted.taken()
        hold(bar!!)
        assertEquals(listOf("removeDevice", "devices"), phone.counted.taken())
        val after = device("Aune")
        assertTrue("back on the list, which says it", after.removed.isNotEmpty() && after.removed in root.texts())
        val readmit = after.actions.first { it.id == "readmit" }.text
        touch(root.button(readmit), TAP_MS)
        assertTrue(device("Aune").removed.isNotEmpty())
        hold(root.button(readmit))
        assertTrue(device("Aune").removed.isEmpty())
    }

    @Test
    fun `what came late is told, and counts once somebody takes it in`() {
        phone.demo(DemoBook.COACH)
        start()
        late("Elva")
        open("devices")
        tap(screen.links.first { it.route == "aside" }.text)
        val late = core { it.aside(env) }.late.single()
        assertTrue(late.text in root.texts())
        assertTrue("each with its reason", core { it.aside(env) }.entries.all { it.reason in root.texts() })
        touch(bar!!, TAP_MS)
        assertEquals(1, core { it.aside(env) }.late.size)
        phone.counted.taken()
        hold(bar!!)
        assertEquals(listOf("takeIn", "aside"), phone.counted.taken())
        assertNull("nothing is left to take in", bar)
        assertTrue(core { it.aside(env) }.noEntries in root.texts())
        assertTrue("it stays removed", device("Elva").removed.isNotEmpty())
        // The same is offered beside the device.
        assertFalse(device("Elva").actions.any { it.id == "take-in" })
    }

    @Test
    fun `a member is erased by holding, and who left comes back`() {
        phone.demo(DemoBook.COACH)
        start()
        core { it.leave(env, member("Ivo").id, "") }
        open("devices")
        tap(phone.headings().members)
        hold(root.button(member("Ivo").actions.first { it.id == "come-back" }.text))
        assertTrue(member("Ivo").standing, member("Ivo").standing.isEmpty())
        tap(member("Cleo").button("erase"))
        touch(bar!!, TAP_MS)
        assertTrue(core { it.squad(env) }.athletes.any { it.name == "Cleo" })
        hold(bar!!)
        assertFalse(core { it.squad(env) }.athletes.any { it.name == "Cleo" })
        assertTrue("back on the list", screen.note in root.texts() && "Cleo" !in root.texts())
    }

    @Test
    fun `a member leads to the athlete, and what is done on the laptop is said`() {
        phone.demo(DemoBook.COACH)
        start()
        open("devices")
        tap(phone.headings().members)
        assertTrue(phone.headings().atTheDesk in root.texts())
        assertTrue("no form for it here", root.all().none { it.contentDescription == device("Aune").button("give") })
        root.all().first { it.contentDescription == member("Aune").spoken && it.isClickable }.performClick()
        assertTrue(phone.headings().sessions in root.texts())
    }

    @Test
    fun `an athlete's phone reads, and changes nothing`() {
        phone.demo("aune")
        start()
        open("more")
        tap(screen.title)
        assertNull(bar)
        assertTrue(screen.note in root.texts() && phone.headings().atTheDesk !in root.texts())
        assertTrue(screen.devices.all { row -> root.all().any { it.contentDescription == row.spoken } })
        val coach = screen.devices[1]
        assertTrue("what it has of this phone", coach.has.isNotEmpty() && (coach.has + coach.met).all { it in root.texts() })
        look("devices-athlete", varies = true)
        open("aside")
        look("aside-nothing")
    }

    @Test
    fun `a phone alone has itself`() {
        start()
        open("devices")
        assertNotNull(screen.devices.single().takeIf { it.here })
        look("devices-alone")
    }
}
