package pitside.phone

import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder
import pitside.phone.screen.Screens

/** Where the records of the demo's squad lead: every link is drawn here, or is one of those that are the laptop's. */
class LinksTest : ScreenTest() {
    @get:Rule val folder = TemporaryFolder()

    /** Every route in a record, and in the records in it. */
    private fun routes(of: Any?): Sequence<String> = when {
        of is Iterable<*> -> of.asSequence().flatMap(::routes)
        of == null || !isRecord(of) -> emptySequence()
        else -> of.javaClass.declaredFields.asSequence().flatMap { field ->
            field.isAccessible = true
            val value = field.get(of)
            if (field.name == "route" && value is String && value.isNotEmpty()) sequenceOf(value) else routes(value)
        }
    }

    /** Records are data classes; the book and other objects are not. Kotlin writes a hash behind the name where a part is unsigned. */
    private fun isRecord(of: Any) =
        of.javaClass.name.startsWith("uniffi.pitside_screen.") && of.javaClass.methods.any { it.name.substringBefore('-') == "component1" }

    private fun head(route: String) = route.substringBefore('/')

    /**
     * Opens every route that a record gave, beginning with the places: of each screen as many as [EACH], for one
     * session is drawn as another is. Gives the screens that records lead to and this phone does not draw.
     */
    private fun walk(): Set<String> {
        val (drawn, hidden) = HashMap<String, Int>() to LinkedHashSet<String>()
        val (seen, ahead) = HashSet<String>() to ArrayDeque<String>()
        fun lead(route: String) {
            if (!seen.add(route)) return
            if (Screens.draws(route)) ahead += route else hidden += head(route)
        }
        start()
        phone.words().places.forEach { lead(it.route) }
        while (ahead.isNotEmpty()) {
            val route = ahead.removeFirst()
            if (drawn.merge(head(route), 1, Int::plus)!! > EACH) continue
            phone.counted.answered()
            open(route)
            assertFalse(route, phone.words().failed in root.texts())
            phone.counted.answered().flatMap(::routes).forEach(::lead)
        }
        drawnScreens = drawn.keys
        return hidden
    }

    private var drawnScreens: Set<String> = emptySet()

    @Test
    fun `on a coach's phone nothing leads nowhere but to the laptop`() {
        phone.demo(DemoBook.COACH)
        val hidden = walk()
        assertTrue("the walk came far: $drawnScreens", drawnScreens.containsAll(listOf("athlete", "plans", "session", "erase", "remove", "aside")))
        assertEquals(COACH, hidden)
        // A word that the core no longer has would be hidden for nothing.
        val samples = listOf("0".repeat(64), "00000000-0000-0000-0000-000000000001")
        for (head in hidden) assertTrue(head, samples.any { runCatching { core { book -> book.checkRoute("$head/$it") } }.isSuccess })
    }

    @Test
    fun `on an athlete's phone nothing leads nowhere but to the laptop`() {
        phone.demo("cleo")
        Elsewhere(DemoBook.COACH, folder.root, phone.device.env()).use { coach ->
            coach.book.eraseMember(phone.device.env(), coach.book.squad(phone.device.env()).athletes.first { it.name == "Cleo" }.id)
            core { coach.handTo(it) }
        }
        assertEquals(ATHLETE, walk())
        assertTrue("the walk came far: $drawnScreens", drawnScreens.containsAll(listOf("athlete", "plans", "session", "wishes", "aside", "sharing")))
    }

    @Test
    fun `a phone in no squad leads nowhere but to the laptop`() {
        assertEquals(ALONE, walk())
    }

    private companion object {
        const val EACH = 12

        /** Written on the laptop or in a terminal: tests, growth and limits, the card, rules, jumps. */
        val ALONE = setOf("jumps", "body", "card", "rules")

        /** And plans. */
        val ATHLETE = ALONE + "plan"

        /** And what else a device is given. */
        val COACH = ATHLETE + "give"
    }
}
