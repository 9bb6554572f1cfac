// Stand-ins for the types of androidx.test that Robolectric 4.16.1 links against; only Google's
// own repository has the real ones.
package androidx.test.platform.app

import android.app.Instrumentation
import android.os.Bundle

object InstrumentationRegistry {
    private var instrumentation: Instrumentation? = null
    private var arguments: Bundle? = null

    @JvmStatic fun registerInstance(instrumentation: Instrumentation?, arguments: Bundle?) {
        this.instrumentation = instrumentation
        this.arguments = arguments
    }
    @JvmStatic fun getInstrumentation(): Instrumentation = checkNotNull(instrumentation)
    @JvmStatic fun getArguments(): Bundle = checkNotNull(arguments)
}
