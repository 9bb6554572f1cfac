// Stand-ins for the types of androidx.test that Robolectric 4.16.1 links against; only Google's
// own repository has the real ones.
package androidx.test.internal.runner.intent

import android.content.Intent
import androidx.test.runner.intent.IntentMonitor

class IntentMonitorImpl : IntentMonitor {
    fun signalIntent(intent: Intent?) {}
}
