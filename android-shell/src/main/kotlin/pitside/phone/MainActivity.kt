package pitside.phone

import android.app.Activity
import android.os.Build
import android.os.Bundle
import android.view.View
import android.view.WindowInsets
import android.widget.FrameLayout
import android.window.OnBackInvokedDispatcher
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.screen.CheckInScreen
import pitside.phone.screen.Frame
import pitside.phone.screen.LogScreen
import pitside.phone.screen.Screen
import pitside.phone.screen.TodayScreen

/** Shows one screen at a time. Where a person is, is a list of the core's routes. */
class MainActivity : Activity(), Frame {
    override val phone: Phone get() = application as Phone
    override lateinit var parts: Parts

    private val routes = ArrayList<String>()
    private lateinit var root: FrameLayout
    private var shown: Screen? = null

    override fun onCreate(state: Bundle?) {
        super.onCreate(state)
        val look = Look(this, phone.device.highContrast())
        parts = Parts(this, look)
        root = FrameLayout(this).apply {
            setBackgroundColor(look.colours.ground)
            setOnApplyWindowInsetsListener { view, insets -> pad(view, insets) }
        }
        setContentView(root)
        routes += state?.getStringArrayList(ROUTES) ?: listOf(TODAY)
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) {
            onBackInvokedDispatcher.registerOnBackInvokedCallback(OnBackInvokedDispatcher.PRIORITY_DEFAULT) { back() }
        }
        show(state?.getBundle(SCREEN))
    }

    override fun onSaveInstanceState(state: Bundle) {
        super.onSaveInstanceState(state)
        state.putStringArrayList(ROUTES, routes)
        state.putBundle(SCREEN, Bundle().also { shown?.keep(it) })
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

    override fun draws(route: String): Boolean = route == TODAY || route == LOG_SET || route == CHECK_IN

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

    @Deprecated("Before Android 13 the system calls it")
    override fun onBackPressed() = back()

    private fun show(kept: Bundle?) {
        val screen = when (routes.lastOrNull()) {
            LOG_SET -> LogScreen(this, this, kept)
            CHECK_IN -> CheckInScreen(this, this, kept)
            else -> TodayScreen(this, this)
        }
        shown = screen
        root.removeAllViews()
        root.addView(screen.view)
        screen.load()
    }

    private companion object {
        const val ROUTES = "routes"
        const val SCREEN = "screen"
        const val TODAY = "today"
        const val LOG_SET = "log-set"
        const val CHECK_IN = "check-in"
    }
}
