package pitside.phone

import android.Manifest
import android.app.Activity
import android.content.Context
import android.content.Intent
import android.content.pm.PackageManager
import android.content.res.Configuration
import android.graphics.Color
import android.os.Build
import android.os.Bundle
import android.view.ContextThemeWrapper
import android.view.View
import android.view.ViewGroup.LayoutParams.MATCH_PARENT
import android.view.ViewGroup.LayoutParams.WRAP_CONTENT
import android.view.WindowInsets
import android.view.WindowInsetsController
import android.widget.FrameLayout
import android.widget.LinearLayout
import android.window.OnBackInvokedDispatcher
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.Places
import pitside.phone.look.add
import pitside.phone.screen.Frame
import pitside.phone.screen.Screen
import pitside.phone.screen.Screens
import uniffi.pitside_screen.Chosen

/** Shows one screen at a time. Where a person is, is a list of the core's routes. */
class MainActivity : Activity(), Frame {
    override val phone: Phone get() = application as Phone
    override lateinit var parts: Parts

    private val routes = ArrayList<String>()
    private lateinit var content: FrameLayout

    /** What screens are drawn with: this activity, or in the sun the same in the colours of the day. */
    private lateinit var drawnWith: Context
    private lateinit var places: Places
    private lateinit var notice: LinearLayout
    private var shown: Screen? = null

    /** Hears of what could not be saved. */
    private val teller: () -> Unit = { tell() }

    /** Whether somebody looks. */
    private var inFront = false

    /** What another app answered while nothing was shown. */
    private var answer: Intent? = null

    /** What the screen kept, until it is drawn. */
    private var kept: Bundle? = null

    override fun onCreate(state: Bundle?) {
        super.onCreate(state)
        routes += state?.getStringArrayList(ROUTES) ?: (listOf(Screens.FIRST) + listOfNotNull(asked(intent)))
        kept = state?.getBundle(SCREEN)
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
            onBackInvokedDispatcher.registerOnBackInvokedCallback(OnBackInvokedDispatcher.PRIORITY_DEFAULT) { back() }
        }
        // Language, units and colours are chosen in the book.
        phone.ready(::anew)
    }

    override fun chosen(chosen: Chosen) {
        phone.chosen = chosen
        anew()
    }

    /** Draws everything anew, in the language, the units and the colours that are chosen. */
    private fun anew() {
        if (isDestroyed) return
        val sun = phone.chosen?.sun == true
        drawnWith = if (sun) byDay() else this
        val look = Look(drawnWith, sun || phone.device.highContrast())
        parts = Parts(drawnWith, look)
        content = FrameLayout(drawnWith)
        notice = parts.column()
        places = Places(drawnWith, parts, phone.words().places.filter { draws(it.route) }, ::go)
        val root = parts.column().apply {
            setBackgroundColor(look.colours.ground)
            setOnApplyWindowInsetsListener { view, insets -> pad(view, insets) }
            addView(content, LinearLayout.LayoutParams(MATCH_PARENT, 0, 1f))
            addView(notice, MATCH_PARENT, WRAP_CONTENT)
            addView(places.view, MATCH_PARENT, WRAP_CONTENT)
        }
        setContentView(root)
        bars(look.colours.ground)
        phone.unsaved.changed = teller
        phone.unsaved.written = { shown?.load() }
        tell()
        show(kept)
        kept = null
    }

    /** The theme and the colours of the day, also where the system has those of the night. */
    private fun byDay(): Context = ContextThemeWrapper(this, R.style.Theme_Pitside).apply {
        applyOverrideConfiguration(
            Configuration().apply {
                // Left as the person set it.
                fontScale = 0f
                uiMode = Configuration.UI_MODE_NIGHT_NO
            },
        )
    }

    /** The system's bars stand on the ground of the screens, with signs that are seen on it. */
    private fun bars(ground: Int) {
        val light = Color.luminance(ground) > 0.5f
        window.statusBarColor = ground
        // Before Android 8.1 the bar below stays dark, with light signs.
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.O_MR1) window.navigationBarColor = ground
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) {
            val both = WindowInsetsController.APPEARANCE_LIGHT_STATUS_BARS or WindowInsetsController.APPEARANCE_LIGHT_NAVIGATION_BARS
            window.insetsController?.setSystemBarsAppearance(if (light) both else 0, both)
        } else {
            val below = if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.O_MR1) View.SYSTEM_UI_FLAG_LIGHT_NAVIGATION_BAR else 0
            @Suppress("DEPRECATION")
            window.decorView.systemUiVisibility = if (light) View.SYSTEM_UI_FLAG_LIGHT_STATUS_BAR or below else 0
        }
    }

    /** Tells what could not be saved, below whichever screen is in front. */
    private fun tell() {
        notice.removeAllViews()
        val unsaved = phone.unsaved
        val one = unsaved.first ?: return
        val words = phone.words()
        val look = parts.look
        val why = one.why.inWords(phone.device.env())
        val said = listOf(one.title, why.text, why.mayDo).filter { it.isNotEmpty() }
        val lines = listOf(parts.label(words.notSaved), parts.text(said.first())) + said.drop(1).map(parts::softText)
        val told = parts.row(lines, (listOf(words.notSaved) + said).joinToString(". "))
        told.accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        val ways = listOf(parts.plain(words.again, unsaved::again), parts.plain(words.letItGo, unsaved::letGo))
        notice.addView(parts.rule(), parts.ruled)
        val inside = parts.column().apply {
            setPadding(look.dp(20), look.dp(Look.Space.SMALL), look.dp(20), look.dp(Look.Space.SMALL))
            add(parts.barred(told), look, 0)
            add(parts.choices(ways), look, Look.Space.SMALL)
        }
        notice.addView(inside, MATCH_PARENT, WRAP_CONTENT)
    }

    /** What a reminder or a file leads to. */
    private fun asked(intent: Intent): String? = intent.getStringExtra(ROUTE)?.takeIf(::draws)

    override fun onNewIntent(intent: Intent) {
        super.onNewIntent(intent)
        val route = asked(intent) ?: return
        if (route == routes.lastOrNull()) show(null) else open(route)
    }

    override fun askToNotify() {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU && !phone.reminders.mayNotify()) {
            requestPermissions(arrayOf(Manifest.permission.POST_NOTIFICATIONS), 0)
        }
    }

    override fun onSaveInstanceState(state: Bundle) {
        super.onSaveInstanceState(state)
        state.putStringArrayList(ROUTES, routes)
        state.putBundle(SCREEN, kept ?: Bundle().also { shown?.keep(it) })
    }

    /** Keeps clear of the bars and the keyboard of the system. */
    private fun pad(view: View, insets: WindowInsets): WindowInsets {
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.R) {
            val bars = insets.getInsets(WindowInsets.Type.systemBars() or WindowInsets.Type.displayCutout() or WindowInsets.Type.ime())
            view.setPadding(bars.left, bars.top, bars.right, bars.bottom)
        } else {
            @Suppress("DEPRECATION")
            view.setPadding(insets.systemWindowInsetLeft, insets.systemWindowInsetTop, insets.systemWindowInsetRight, insets.systemWindowInsetBottom)
        }
        return insets
    }

    override fun draws(route: String): Boolean = Screens.draws(route)

    override fun alone(yes: Boolean) = places.at(if (yes) null else routes.lastOrNull() ?: Screens.FIRST)

    override fun open(route: String) {
        routes += route
        show(null)
    }

    override fun back() {
        if (routes.size <= 1) {
            finish()
            return
        }
        routes.removeAt(routes.lastIndex)
        show(null)
    }

    override fun ask(intent: Intent) = startActivityForResult(intent, ANSWER)

    override fun onActivityResult(request: Int, result: Int, data: Intent?) {
        super.onActivityResult(request, result, data)
        if (request != ANSWER || result != RESULT_OK || data == null) return
        // After the process died the answer may come before the book is open.
        shown?.answered(data) ?: run { answer = data }
    }

    override fun onStart() {
        super.onStart()
        inFront = true
        shown?.start()
    }

    override fun onStop() {
        inFront = false
        shown?.stop()
        super.onStop()
    }

    override fun onDestroy() {
        if (isChangingConfigurations) phone.turned = shown?.let { (routes.lastOrNull() ?: Screens.FIRST) to it }
        shown?.end()
        // Another activity may be in front already.
        if (phone.unsaved.changed === teller) {
            phone.unsaved.changed = {}
            phone.unsaved.written = {}
        }
        super.onDestroy()
    }

    override fun permit(permissions: List<String>, code: Int) {
        val missing = permissions.filter { checkSelfPermission(it) != PackageManager.PERMISSION_GRANTED }
        if (missing.isEmpty()) shown?.permitted(code, true) else requestPermissions(missing.toTypedArray(), code)
    }

    override fun onRequestPermissionsResult(code: Int, permissions: Array<out String>, results: IntArray) {
        super.onRequestPermissionsResult(code, permissions, results)
        // Empty where the question was interrupted.
        shown?.permitted(code, results.isNotEmpty() && results.all { it == PackageManager.PERMISSION_GRANTED })
    }

    @Deprecated("Before Android 13 the system calls it")
    override fun onBackPressed() = back()

    /** Goes to a place; the way back from each is the first one. */
    private fun go(place: String) {
        routes.clear()
        routes += Screens.FIRST
        if (place != Screens.FIRST) routes += place
        show(null)
    }

    private fun show(kept: Bundle?) {
        // Before the book is open nothing can be drawn; then what is last in the list is drawn first.
        if (!::content.isInitialized) return
        val route = routes.lastOrNull() ?: Screens.FIRST
        shown?.end()
        val screen = Screens.make(route, this, drawnWith, kept)
        phone.turned?.let { (of, ended) -> if (of == route) screen.succeed(ended) }
        phone.turned = null
        shown = screen
        places.at(route)
        content.removeAllViews()
        content.addView(screen.view)
        if (!inFront) screen.stop()
        screen.load()
        val given = answer
        answer = null
        given?.let(screen::answered)
    }

    companion object {
        /** Where to, as an extra of the intent. */
        const val ROUTE = "route"

        /** Where files and syncs are watched. */
        const val EXCHANGE = "exchange"

        /** Who may lead here; what differs in its extras alone is one to the system. */
        const val BY_REMINDER = 1
        const val BY_WORK = 2
        private const val ROUTES = "routes"
        private const val SCREEN = "screen"
        private const val ANSWER = 1
    }
}
