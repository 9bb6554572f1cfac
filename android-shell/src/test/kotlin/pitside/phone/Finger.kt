package pitside.phone

import android.os.SystemClock
import android.view.MotionEvent
import android.view.View
import java.time.Duration
import org.robolectric.shadows.ShadowLooper
import pitside.phone.look.Hold

/** A finger on the middle of a view for some time; as long as a bar asks for where nothing is said. */
fun View.touched(ms: Long = Hold.HOLD_MS + 50) {
    val down = SystemClock.uptimeMillis()
    val send = { action: Int ->
        val event = MotionEvent.obtain(down, SystemClock.uptimeMillis(), action, width / 2f, height / 2f, 0)
        dispatchTouchEvent(event)
        event.recycle()
    }
    send(MotionEvent.ACTION_DOWN)
    ShadowLooper.shadowMainLooper().idleFor(Duration.ofMillis(ms))
    send(MotionEvent.ACTION_UP)
    ShadowLooper.idleMainLooper()
}

/** As short as rain. */
const val TAP_MS = 80L
