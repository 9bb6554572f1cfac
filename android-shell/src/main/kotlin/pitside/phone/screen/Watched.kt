package pitside.phone.screen

import android.content.Context
import android.content.Intent
import android.os.Build
import android.view.View
import pitside.phone.exchange.HandOver
import pitside.phone.exchange.Work
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.ExchangeEnd

/** A screen on which work is watched that ends with words, and those are read. */
abstract class Watched(frame: Frame, private val context: Context, work: Work<ExchangeEnd> = frame.phone.work) : Working<ExchangeEnd>(frame, context, work) {
    /** Draws what goes on, or how the last came out; gives whether there was anything of it. */
    protected fun watched(page: Parts.Page, cancel: String, close: String, share: String, closed: (ExchangeEnd) -> Unit): Boolean {
        nothingGoesOn()
        val job = work.job
        val end = work.end
        when {
            job != null -> goesOn(page, job, cancel)
            end != null -> ended(page, end, close, share, closed)
            else -> return false
        }
        return true
    }

    /** Passes the file on that was written. */
    protected open fun passOn(path: String): Intent = HandOver.share(path)

    private fun ended(page: Parts.Page, end: ExchangeEnd, close: String, share: String, closed: (ExchangeEnd) -> Unit) {
        val lines = listOf(parts.text(end.text)) + listOf(end.more).filter { it.isNotEmpty() }.map(parts::softText)
        val row = parts.row(lines, listOf(end.text, end.more).filter { it.isNotEmpty() }.joinToString(" "))
        row.accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        page.body.add(if (end.done) row else parts.barred(row), look)
        if (end.path.isNotEmpty()) {
            page.foot.add(parts.wide(share) { context.startActivity(passOn(end.path)) }, look, Look.Space.SMALL)
        }
        val done = { work.seen(); closed(end) }
        page.foot.add(if (end.path.isEmpty()) parts.wide(close, done) else parts.plain(close, done), look, Look.Space.SMALL)
    }

    /** What a person is asked for before a device on the local network is called. */
    protected fun localNetwork(): List<String> = if (Build.VERSION.SDK_INT >= LOCAL_NETWORK_SINCE) listOf(LOCAL_NETWORK) else emptyList()

    private companion object {
        /** In the framework from Android 17 on. */
        const val LOCAL_NETWORK = "android.permission.ACCESS_LOCAL_NETWORK"
        const val LOCAL_NETWORK_SINCE = 37
    }
}
