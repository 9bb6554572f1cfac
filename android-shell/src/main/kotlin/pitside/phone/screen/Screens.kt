package pitside.phone.screen

import android.content.Context
import android.os.Bundle

/** Makes a screen; `about` is what stands behind the head of its route, and empty where nothing does. */
private typealias Make = (frame: Frame, context: Context, about: String, kept: Bundle?) -> Screen

/** The screens that the phone draws, by the head of their route. */
object Screens {
    const val FIRST = "today"

    private val made: Map<String, Make> = mapOf(
        FIRST to { frame, context, _, kept -> TodayScreen(frame, context, kept) },
        "log-set" to { frame, context, _, kept -> LogScreen(frame, context, kept) },
        "check-in" to { frame, context, _, _ -> CheckInScreen(frame, context) },
        "times" to { frame, context, _, kept -> TakesScreen(frame, context, kept) },
        "mark" to { frame, context, about, kept -> MarkScreen(frame, context, about, kept) },
        "session" to { frame, context, about, kept -> SessionScreen(frame, context, kept, about) },
        "correct" to { frame, context, about, kept -> CorrectScreen(frame, context, kept, about) },
        "effort" to { frame, context, about, _ -> EffortScreen(frame, context, about) },
        "group" to { frame, context, _, kept -> GroupScreen(frame, context, kept) },
        "plans" to { frame, context, about, kept -> PlansScreen(frame, context, about, kept) },
        "course" to { frame, context, _, kept -> CourseScreen(frame, context, kept) },
        "exercises" to { frame, context, _, kept -> CatalogueScreen(frame, context, kept) },
        "exercise" to { frame, context, about, kept -> ExerciseScreen(frame, context, about, kept) },
        "settings" to { frame, context, _, _ -> SettingsScreen(frame, context) },
        "sharing" to { frame, context, about, _ -> SharingScreen(frame, context, about) },
        "erase-here" to { frame, context, _, _ -> EraseHereScreen(frame, context) },
        DevicesScreen.ROUTE to { frame, context, _, kept -> DevicesScreen(frame, context, kept) },
        "remove" to { frame, context, about, _ -> RemoveScreen(frame, context, about) },
        "erase" to { frame, context, about, _ -> EraseScreen(frame, context, about) },
        "aside" to { frame, context, _, _ -> AsideScreen(frame, context) },
        "wishes" to { frame, context, _, _ -> WishesScreen(frame, context) },
        "squad" to { frame, context, _, kept -> SquadScreen(frame, context, kept) },
        "athlete" to { frame, context, about, kept -> AthleteScreen(frame, context, about, kept) },
        "exchange" to { frame, context, _, kept -> ExchangeScreen(frame, context, kept) },
        "join" to { frame, context, _, kept -> JoinScreen(frame, context, kept) },
        "more" to { frame, context, _, _ -> MoreScreen(frame, context) },
    )

    fun draws(route: String): Boolean = head(route) in made

    /** A route that another version kept leads to the first screen. */
    fun make(route: String, frame: Frame, context: Context, kept: Bundle?): Screen {
        val make = made[head(route)] ?: made.getValue(FIRST)
        return make(frame, context, route.substringAfter('/', ""), kept)
    }

    private fun head(route: String) = route.substringBefore('/')
}
