// Stand-ins for the types of androidx.test that Robolectric 4.16.1 links against; only Google's
// own repository has the real ones.
package androidx.test.runner.lifecycle

enum class Stage { PRE_ON_CREATE, CREATED, STARTED, RESUMED, PAUSED, STOPPED, RESTARTED, DESTROYED }

enum class ApplicationStage { PRE_ON_CREATE, CREATED }

interface ActivityLifecycleMonitor

interface ApplicationLifecycleMonitor

object ActivityLifecycleMonitorRegistry {
    private var monitor: ActivityLifecycleMonitor? = null
    @JvmStatic fun registerInstance(monitor: ActivityLifecycleMonitor?) { this.monitor = monitor }
    @JvmStatic fun getInstance(): ActivityLifecycleMonitor = checkNotNull(monitor)
}

object ApplicationLifecycleMonitorRegistry {
    @JvmStatic fun registerInstance(monitor: ApplicationLifecycleMonitor?) {}
}
