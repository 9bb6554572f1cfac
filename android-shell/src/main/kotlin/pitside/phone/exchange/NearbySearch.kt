package pitside.phone.exchange

import android.content.Context
import android.net.nsd.NsdManager
import android.net.nsd.NsdServiceInfo
import android.os.Build
import java.net.Inet6Address
import java.net.InetAddress
import java.util.concurrent.LinkedBlockingQueue
import java.util.concurrent.TimeUnit
import uniffi.pitside_screen.Nearby

/** Looks for desks on the local network. This phone says nothing about itself there. */
fun interface NearbySearch {
    /** Blocks up to `forMs`, or until `enough`; what is found is a place to try and proves nothing. */
    fun look(forMs: Long, enough: () -> Boolean): List<Nearby>
}

/** The system's own search by DNS-SD. The core tells by the attributes whose each is. */
class NsdSearch(context: Context) : NearbySearch {
    private val manager = context.getSystemService(NsdManager::class.java)

    override fun look(forMs: Long, enough: () -> Boolean): List<Nearby> {
        val services = LinkedBlockingQueue<NsdServiceInfo>()
        val listener = Found(services)
        manager.discoverServices(SERVICE, NsdManager.PROTOCOL_DNS_SD, listener)
        val until = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(forMs)
        val found = mutableListOf<Nearby>()
        try {
            while (found.size < MOST && !enough()) {
                val left = until - System.nanoTime()
                if (left <= 0) break
                // In stretches, so that calling it off is heard.
                val service = services.poll(minOf(left, STRETCH), TimeUnit.NANOSECONDS) ?: continue
                resolved(service, until)?.let(found::add)
            }
        } finally {
            listener.end()
        }
        return found
    }

    /** One after the other: older systems resolve one service at a time. */
    @Suppress("DEPRECATION")
    private fun resolved(service: NsdServiceInfo, until: Long): Nearby? {
        val answer = LinkedBlockingQueue<List<Nearby>>()
        val listener = object : NsdManager.ResolveListener {
            override fun onResolveFailed(info: NsdServiceInfo, error: Int) {
                answer.add(emptyList())
            }

            override fun onServiceResolved(info: NsdServiceInfo) {
                answer.add(listOfNotNull(nearby(info)))
            }
        }
        manager.resolveService(service, listener)
        return answer.poll(maxOf(until - System.nanoTime(), 0), TimeUnit.NANOSECONDS)?.firstOrNull()
    }

    @Suppress("DEPRECATION")
    private fun nearby(info: NsdServiceInfo): Nearby? {
        val hosts = if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.UPSIDE_DOWN_CAKE) info.hostAddresses else listOfNotNull(info.host)
        val addresses = hosts.map { address(it, info.port) }
        return if (addresses.isEmpty()) null else Nearby(info.attributes.mapValues { it.value ?: ByteArray(0) }, addresses)
    }

    private inner class Found(private val services: LinkedBlockingQueue<NsdServiceInfo>) : NsdManager.DiscoveryListener {
        private var begun = false
        private var over = false

        /** Only what was begun may be stopped: what begins later is stopped then. */
        @Synchronized
        fun end() {
            over = true
            if (begun) manager.stopServiceDiscovery(this)
        }

        @Synchronized
        override fun onDiscoveryStarted(type: String) {
            begun = true
            if (over) manager.stopServiceDiscovery(this)
        }

        override fun onServiceFound(info: NsdServiceInfo) {
            services.add(info)
        }

        override fun onServiceLost(info: NsdServiceInfo) = Unit
        override fun onDiscoveryStopped(type: String) = Unit
        override fun onStartDiscoveryFailed(type: String, error: Int) = Unit
        override fun onStopDiscoveryFailed(type: String, error: Int) = Unit
    }

    companion object {
        private const val SERVICE = "_pitside._tcp"
        private const val MOST = 32
        private val STRETCH = TimeUnit.MILLISECONDS.toNanos(100)

        /** `host:port` as the core reads it; a link-local address means nothing without its interface. */
        fun address(host: InetAddress, port: Int): String {
            if (host !is Inet6Address) return "${host.hostAddress}:$port"
            val plain = checkNotNull(host.hostAddress).substringBefore('%')
            val scope = if (host.isLinkLocalAddress) "%${host.scopeId}" else ""
            return "[$plain$scope]:$port"
        }
    }
}
