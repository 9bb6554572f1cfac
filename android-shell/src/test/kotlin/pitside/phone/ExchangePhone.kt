package pitside.phone

import java.util.TimeZone
import java.util.concurrent.atomic.AtomicInteger
import pitside.phone.exchange.Luminance
import pitside.phone.exchange.NearbySearch
import pitside.phone.exchange.Outside
import pitside.phone.exchange.Power
import pitside.phone.exchange.Sight
import uniffi.pitside_screen.Env
import uniffi.pitside_screen.Nearby

/** A phone whose network, camera and battery are the test's; all that it syncs with is real. */
class ExchangePhone : TestPhone() {
    /** Whether its clock is this machine's, as that of a desk is. */
    var now = false
    var low = false

    /** What the network answers, and how often it was asked. */
    var around: (enough: () -> Boolean) -> List<Nearby> = { emptyList() }
    val asked = AtomicInteger()
    val camera = HeldCamera()

    override fun makeDevice(): Device {
        val fixed = super.makeDevice()
        return object : Device by fixed {
            override fun env(): Env {
                val env = fixed.env()
                val ms = System.currentTimeMillis()
                return if (now) env.copy(zoneMin = (TimeZone.getDefault().getOffset(ms) / 60_000).toShort(), nowMs = ms) else env
            }
        }
    }

    override fun makeOutside() = Outside(
        NearbySearch { _, enough ->
            asked.incrementAndGet()
            around(enough)
        },
        { camera },
        Power { low },
    )
}

/** A camera that sees what a test holds before it. */
class HeldCamera : Sight {
    private var seen: ((Luminance) -> Unit)? = null
    private var failed: (() -> Unit)? = null
    val isOpen get() = seen != null

    override fun open(onto: android.view.TextureView, seen: (Luminance) -> Unit, failed: () -> Unit) {
        this.seen = seen
        this.failed = failed
    }

    override fun close() {
        seen = null
    }

    /** From a thread of its own, as a camera does. */
    fun see(picture: Luminance) = Thread { seen?.invoke(picture) }.apply { start() }.join()

    fun fail() = failed?.invoke()
}
