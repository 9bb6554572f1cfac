package pitside.phone.look

import android.view.View
import android.view.accessibility.AccessibilityNodeInfo

/**
 * Makes what is tapped or read answer to being held as well, also for whoever works by a reader,
 * who hears `spoken`.
 */
fun View.holds(spoken: String, onHold: () -> Unit) {
    setOnLongClickListener {
        onHold()
        true
    }
    accessibilityDelegate = object : View.AccessibilityDelegate() {
        override fun onInitializeAccessibilityNodeInfo(host: View, info: AccessibilityNodeInfo) {
            super.onInitializeAccessibilityNodeInfo(host, info)
            info.addAction(AccessibilityNodeInfo.AccessibilityAction(AccessibilityNodeInfo.ACTION_LONG_CLICK, spoken))
        }
    }
}
