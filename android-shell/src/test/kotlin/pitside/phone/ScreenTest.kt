package pitside.phone

import android.graphics.Rect
import android.os.Bundle
import android.os.SystemClock
import android.view.MotionEvent
import android.view.View
import android.widget.Button
import java.time.Duration
import org.junit.After
import org.junit.Assert.assertEquals
import org.junit.Test
import org.junit.runner.RunWith
import org.robolectric.Robolectric
import org.robolectric.RobolectricTestRunner
import org.robolectric.RuntimeEnvironment
import org.robolectric.android.controller.ActivityController
import org.robolectric.annotation.Config
import org.robolectric.annotation.GraphicsMode
import org.robolectric.shadows.ShadowLooper
import pitside.phone.look.Hold
import uniffi.pitside_screen.PitsideInterface

/** The shell on the framework of Android 14, over a real book. */
@RunWith(RobolectricTestRunner::class)
@GraphicsMode(GraphicsMode.Mode.NATIVE)
@Config(sdk = [34], application = TestPhone::class, qualifiers = "en-w360dp-h740dp-xhdpi")
abstract class ScreenTest {
    protected val phone get() = RuntimeEnvironment.getApplication() as TestPhone
    protected lateinit var activity: ActivityController<MainActivity>
    protected val root: View get() = activity.get().findViewById<View>(android.R.id.content)

    @After
    fun end() {
        phone.onTerminate()
    }

    /** Opens the shell, as after the process died where there is a `state`. */
    protected fun start(state: Bundle? = null) {
        activity = Robolectric.buildActivity(MainActivity::class.java)
        if (state == null) activity.setup() else activity.setup(state)
    }

    /** Ends the process and opens the shell again from what Android kept. */
    protected fun kill() {
        val state = Bundle().also { activity.saveInstanceState(it) }
        activity.destroy()
        start(state)
    }

    protected fun open(route: String) {
        activity.get().open(route)
        ShadowLooper.idleMainLooper()
    }

    protected fun tap(spoken: String) {
        root.button(spoken).performClick()
        ShadowLooper.idleMainLooper()
    }

    protected fun tap(id: Int) {
        root.findViewById<Button>(id).performClick()
        ShadowLooper.idleMainLooper()
    }

    /** Taps what a reader says with these words. */
    protected fun tapSpoken(spoken: String) {
        root.all().first { it.contentDescription == spoken && it.isClickable }.performClick()
        ShadowLooper.idleMainLooper()
    }

    /** A finger on a view for some time; it is brought into sight first, and the finger meets whatever lies there. */
    protected fun touch(view: View, ms: Long) {
        view.requestRectangleOnScreen(Rect(0, 0, view.width, view.height), true)
        val at = IntArray(2).also(view::getLocationInWindow)
        val (x, y) = at[0] + view.width / 2f to at[1] + view.height / 2f
        val down = SystemClock.uptimeMillis()
        val window = activity.get().window.decorView
        val send = { action: Int -> MotionEvent.obtain(down, SystemClock.uptimeMillis(), action, x, y, 0).let { window.dispatchTouchEvent(it); it.recycle() } }
        send(MotionEvent.ACTION_DOWN)
        ShadowLooper.shadowMainLooper().idleFor(Duration.ofMillis(ms))
        send(MotionEvent.ACTION_UP)
        ShadowLooper.idleMainLooper()
    }

    /** A finger on a bar until it did what it is held for. */
    protected fun hold(bar: View) = touch(bar, Hold.HOLD_MS + 50L)

    /** Asks the book what a screen would ask it. */
    protected fun <T> core(call: (PitsideInterface) -> T): T {
        var got: Answer<T>? = null
        phone.book.ask(call) { got = it }
        return when (val answer = got) {
            is Answer.Good -> answer.value
            is Answer.Bad -> throw answer.why
            null -> error("no answer came")
        }
    }

    /**
     * Draws what is shown: it is as it was accepted, and nothing is wrong with it for a finger, an eye or a reader.
     * What `varies`, with a key that was drawn or the time of this machine, is like no accepted picture. Where more
     * contrast is asked for, the places are the same and what matters is measured in the drawing; German words are
     * held by the tests of the core. Neither has a picture, which would be one more to accept at every change.
     */
    protected fun look(name: String, varies: Boolean = false) {
        ShadowLooper.idleMainLooper()
        val found = picture(root, name) { drawn ->
            val german = phone.resources.configuration.locales[0].language == "de"
            val high = activity.get().parts.look.high
            val apart = varies || high || german
            val other = if (apart) emptyList() else changed(drawn, "${javaClass.simpleName}/$name")
            (if (german) english(root) else emptyList()) + faults(root) + pale(root, drawn, high) + other
        }
        assertEquals(name, emptyList<String>(), found)
    }
}

/** Walks over screens in every way in which a person may have set the phone. */
abstract class EveryWay : ScreenTest() {
    /** Opens the screens one after the other and has a `look` at each; names begin with `way`. */
    protected abstract fun screens(way: String)

    @Test fun light() = screens("light")

    @Config(qualifiers = "+night")
    @Test fun dark() = screens("dark")

    @Test fun `high contrast`() {
        phone.high = true
        screens("high-contrast")
    }

    @Config(qualifiers = "+night")
    @Test fun `high contrast in the dark`() {
        phone.high = true
        screens("high-contrast-dark")
    }

    @Test fun `letters twice as large`() {
        RuntimeEnvironment.setFontScale(2f)
        screens("font-2")
    }

    @Config(qualifiers = "ar-ldrtl-w360dp-h740dp-xhdpi")
    @Test fun `from right to left`() = screens("rtl")

    @Config(qualifiers = "en-w740dp-h360dp-land-xhdpi")
    @Test fun landscape() = screens("landscape")

    @Config(qualifiers = "de-w360dp-h740dp-xhdpi")
    @Test fun german() = screens("german")
}

/** A touch as short as rain, in milliseconds. */
const val TAP_MS = 80L
