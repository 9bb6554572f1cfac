// Stand-ins for the types of androidx.test that Robolectric 4.16.1 links against; only Google's
// own repository has the real ones.
package androidx.test.internal.runner.lifecycle

import android.app.Activity
import android.app.Application
import androidx.test.runner.lifecycle.ActivityLifecycleMonitor
import androidx.test.runner.lifecycle.ApplicationLifecycleMonitor
import androidx.test.runner.lifecycle.ApplicationStage
import androidx.test.runner.lifecycle.Stage

class ActivityLifecycleMonitorImpl : ActivityLifecycleMonitor {
    fun signalLifecycleChange(stage: Stage?, activity: Activity?) {}
}

class ApplicationLifecycleMonitorImpl : ApplicationLifecycleMonitor {
    fun signalLifecycleChange(application: Application?, stage: ApplicationStage?) {}
}
