// Stand-ins for the types of androidx.test that Robolectric 4.16.1 links against; only Google's
// own repository has the real ones.
package androidx.test.runner.intent

import android.app.Instrumentation
import android.content.Intent

interface IntentMonitor

object IntentMonitorRegistry {
    @JvmStatic fun registerInstance(monitor: IntentMonitor?) {}
}

interface IntentStubber {
    fun getActivityResultForIntent(intent: Intent?): Instrumentation.ActivityResult?
}

object IntentStubberRegistry {
    @JvmStatic fun isLoaded(): Boolean = false
    @JvmStatic fun getInstance(): IntentStubber = error("no intent stubber")
}
