package pitside.phone.exchange

import android.app.Activity
import android.content.Intent
import android.net.Uri
import android.os.Build
import android.os.Bundle
import pitside.phone.MainActivity
import pitside.phone.Phone

/** A hand-over file that was opened or sent from another app: it is taken in, and the exchange shows how it goes. */
class FileActivity : Activity() {
    override fun onCreate(state: Bundle?) {
        super.onCreate(state)
        val phone = application as Phone
        document()?.let { document ->
            phone.work.follow(HandOver.takeIn(phone, document, phone.device::env))
            // The right to read it goes with this intent, so it is passed on as long as the copy takes.
            val exchange = Intent(this, MainActivity::class.java)
                .putExtra(MainActivity.ROUTE, MainActivity.EXCHANGE)
                .setDataAndType(document, HandOver.TYPE)
                .addFlags(NEW or Intent.FLAG_GRANT_READ_URI_PERMISSION)
            startActivity(exchange)
        }
        finish()
    }

    private fun document(): Uri? {
        if (intent.action != Intent.ACTION_SEND) return intent.data
        if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.TIRAMISU) return intent.getParcelableExtra(Intent.EXTRA_STREAM, Uri::class.java)
        @Suppress("DEPRECATION")
        return intent.getParcelableExtra(Intent.EXTRA_STREAM)
    }

    private companion object {
        /** In this app's own task, not in that of the one it came from. */
        const val NEW = Intent.FLAG_ACTIVITY_NEW_TASK or Intent.FLAG_ACTIVITY_CLEAR_TOP or Intent.FLAG_ACTIVITY_SINGLE_TOP
    }
}
