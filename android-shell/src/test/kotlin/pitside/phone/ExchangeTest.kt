package pitside.phone

import android.Manifest.permission.CAMERA
import android.Manifest.permission.POST_NOTIFICATIONS
import android.app.Activity
import android.app.Notification
import android.app.NotificationManager
import android.content.ClipData
import android.content.ClipboardManager
import android.content.Intent
import android.graphics.Bitmap
import android.graphics.Color
import android.net.Uri
import android.os.Bundle
import android.provider.OpenableColumns
import android.view.View
import android.widget.EditText
import com.google.zxing.BarcodeFormat
import com.google.zxing.qrcode.QRCodeWriter
import java.io.File
import java.io.FileNotFoundException
import java.net.Inet6Address
import java.net.InetAddress
import org.junit.After
import org.junit.Assert.assertEquals
import org.junit.Assert.assertFalse
import org.junit.Assert.assertNotNull
import org.junit.Assert.assertNull
import org.junit.Assert.assertThrows
import org.junit.Assert.assertTrue
import org.junit.Rule
import org.junit.Test
import org.junit.rules.TemporaryFolder
import org.robolectric.Robolectric
import org.robolectric.RuntimeEnvironment
import org.robolectric.Shadows.shadowOf
import org.robolectric.annotation.Config
import org.robolectric.shadows.ShadowLooper
import pitside.phone.exchange.FileActivity
import pitside.phone.exchange.HandOver
import pitside.phone.exchange.Luminance
import pitside.phone.exchange.NsdSearch
import pitside.phone.exchange.WorkService
import pitside.phone.exchange.qrText
import pitside.phone.share.Shared
import pitside.phone.share.SharedProvider
import uniffi.pitside_screen.CheckInForm
import uniffi.pitside_screen.Effort
import uniffi.pitside_screen.HurtForm
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.More

/** Waits for the work that goes on, however long a busy machine takes. */
private fun TestPhone.worked() {
    val patience = System.nanoTime() + 120_000_000_000
    while (work.job != null) {
        check(System.nanoTime() < patience) { "it does not end" }
        Thread.sleep(10)
        ShadowLooper.idleMainLooper()
    }
    ShadowLooper.idleMainLooper()
}

private fun View.says(start: String) = texts().any { it.startsWith(start) }

/** The exchange and the way into a squad, in every way a phone may be set. */
@Config(application = ExchangePhone::class)
class ExchangeScreensTest : EveryWay() {
    @get:Rule val folder = TemporaryFolder()

    override fun screens(way: String) {
        val phone = phone as ExchangePhone
        phone.now = true
        shadowOf(phone).grantPermissions(POST_NOTIFICATIONS)
        start()
        open("exchange")
        look("$way-exchange-alone")
        tap(core { it.exchange(phone.device.env()) }.actions.single().text)
        look("$way-join")
        Desk(folder.root).use { desk ->
            desk.serve("--found", "Quay jumps")
            core { it.logToday(phone.device.env(), "", it.logSet(phone.device.env()).form) }
            root.findViewById<EditText>(R.id.invitation).setText(desk.invitationPage().invitation())
            look("$way-join-filled", varies = true)
            tap(R.id.save)
            phone.worked()
            look("$way-joined")
            tap(core { it.exchange(phone.device.env()) }.close)
            // The coach rates it too.
            val member = core { it.more(phone.device.env()) }.member()
            desk.stop()
            desk.run("log", "--member", member, "--rpe", "7", "--minutes", "50")
            val session = core { it.exchange(phone.device.env()) }.sessions.single().id
            core { it.setEffort(phone.device.env(), session, Effort(50u, 50u)) }
            desk.serve()
            core { it.syncNow(phone.device.env(), emptyList(), Job()) }
        }
        core { it.logToday(phone.device.env(), "", it.logSet(phone.device.env()).form) }
        core { it.checkIn(phone.device.env(), "", CheckInForm("", listOf(HurtForm("shin", "left", 2u)), null, emptyList())) }
        phone.low = true
        open("exchange")
        val exchange = core { it.exchange(phone.device.env()) }
        val clash = exchange.clashes.single()
        tap(clash.values[0].let { "${it.text}, ${it.written}" })
        look("$way-exchange", varies = true)
        phone.around = { enough ->
            while (!enough()) Thread.sleep(5)
            emptyList()
        }
        tap(exchange.actions[0].text)
        while (phone.asked.get() == 0) Thread.sleep(5)
        ShadowLooper.idleMainLooper()
        look("$way-exchange-syncing", varies = true)
        tap(R.id.cancel)
        phone.worked()
        look("$way-exchange-called-off", varies = true)
        tap(exchange.close)
        tap(exchange.actions.first { it.id == "hand-over" }.text)
        look("$way-hand-over", varies = true)
        tap(exchange.devices.single().spoken)
        phone.worked()
        look("$way-handed-over", varies = true)
    }
}

/** The text that an invitation's page shows below its pattern. */
private fun String.invitation(): String = substringAfter("<code class=\"pairing\">").substringBefore("</code>")

/** The one whom this phone serves. */
private fun More.member(): String = links.first { it.route.startsWith("sharing/") }.route.substringAfter('/')

@Config(application = ExchangePhone::class)
class ExchangeTest : ScreenTest() {
    @get:Rule val folder = TemporaryFolder()

    private val desk by lazy { Desk(folder.root) }
    private val exchanging get() = phone as ExchangePhone
    private val env get() = phone.device.env()

    @After
    fun closeDesk() = desk.close()

    private fun paste(text: String) {
        phone.getSystemService(ClipboardManager::class.java).setPrimaryClip(ClipData.newPlainText("", text))
        tap("Paste")
    }

    /** A coach's desk that serves, and this phone in its squad; by taps. */
    private fun joined() {
        exchanging.now = true
        shadowOf(phone).grantPermissions(POST_NOTIFICATIONS)
        desk.serve("--found", "Quay jumps")
        start()
        open("exchange")
        tap("Answer an invitation")
        paste(desk.invitationPage().invitation())
        tap(R.id.save)
        phone.worked()
        assertTrue(root.texts().toString(), root.says("This phone is in the squad now."))
        tap("Done")
    }

    private fun logASet() {
        open("log-set")
        tap(R.id.save)
    }

    private fun sync() {
        tap("Sync now")
        phone.worked()
        assertTrue(root.texts().toString(), root.says("Synced."))
        tap("Done")
    }

    @Test
    fun `what a phone logged is on the coach's page, and a clash made on both is settled`() {
        joined()
        assertTrue(root.texts().toString(), root.says("Nothing is only on this phone"))
        logASet()
        activity.get().back()
        open("exchange")
        assertTrue(root.texts().toString(), root.says("1 set only on this phone, from today"))
        assertTrue(root.says("only on this phone"))
        sync()
        assertTrue(root.texts().toString(), root.says("Nothing is only on this phone"))
        assertTrue(root.says("with the coach, confirmed today at "))

        val member = core { it.more(env) }.member()
        val exercise = core { it.logSet(env) }.let { form -> form.exercises.first { it.id == form.form.exercise }.text }
        val session = core { it.exchange(env) }.sessions.single()
        root.all().first { it.contentDescription == session.spoken && it.isClickable }.performClick()
        ShadowLooper.idleMainLooper()
        assertTrue("a session opens", core { it.sessionLog(env, session.id) }.title in root.texts())
        activity.get().back()
        val shown = desk.seen("/session/${session.id}")
        assertTrue(shown, exercise in shown)
        desk.photographed("/athlete/$member", "coach-page")

        // Each rates the session, and neither has seen the other's.
        desk.stop()
        desk.run("log", "--member", member, "--rpe", "7", "--minutes", "50")
        core { it.setEffort(env, session.id, Effort(50u, 45u)) }
        desk.serve()
        sync()
        assertTrue(root.texts().toString(), root.says("Written differently: Effort of a session"))
        val page = desk.seen("/athlete/$member")
        assertTrue(page, "written differently by two people" in page)
        desk.photographed("/athlete/$member", "coach-page-clash")

        val clash = core { it.exchange(env) }.clashes.single()
        val own = clash.values.first { it.written.startsWith("this device") }
        phone.counted.taken()
        tap("${own.text}, ${own.written}")
        assertEquals("nothing is written before the second touch", emptyList<String>(), phone.counted.taken())
        tap(own.keep)
        assertEquals(listOf("settle", "exchange"), phone.counted.taken())
        assertFalse(root.says("Written differently"))
        sync()
        val settled = desk.seen("/athlete/$member")
        assertFalse(settled, "written differently" in settled)
        assertTrue("the athlete's own stands on the coach's page", "RPE 5" in desk.seen("/session/${session.id}"))
    }

    @Test
    fun `the pattern on the coach's screen is read through the camera`() {
        exchanging.now = true
        desk.serve("--found", "Quay jumps")
        start()
        open("join")
        tap("Scan the pattern")
        val asked = shadowOf(activity.get()).lastRequestedPermission
        assertEquals(listOf(CAMERA), asked.requestedPermissions.toList())
        activity.get().onRequestPermissionsResult(asked.requestCode, asked.requestedPermissions, intArrayOf(-1))
        assertTrue(root.texts().toString(), root.says("The camera is not available"))
        shadowOf(phone).grantPermissions(CAMERA)
        tap("Scan the pattern")
        assertTrue(exchanging.camera.isOpen)
        look("join-scanning")
        exchanging.camera.see(Luminance(ByteArray(64 * 48), 64, 48, 64))
        val page = desk.invitationPage()
        exchanging.camera.see(luminance(desk.picture(page)))
        ShadowLooper.idleMainLooper()
        assertFalse("it has seen enough", exchanging.camera.isOpen)
        assertEquals(page.invitation(), root.findViewById<EditText>(R.id.invitation).text.toString())
        tap(R.id.save)
        phone.worked()
        assertTrue(root.texts().toString(), root.says("This phone is in the squad now."))
    }

    @Test
    fun `a code is found in a picture with rows wider than it, and none where there is none`() {
        val text = "PITSIDE1:" + "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".repeat(11)
        val code = QRCodeWriter().encode(text, BarcodeFormat.QR_CODE, 400, 400)
        val stride = 512
        val bytes = ByteArray(stride * 480) { 90 }
        for (y in 0 until 400) for (x in 0 until 400) bytes[(y + 40) * stride + x + 30] = if (code[x, y]) 40 else 200.toByte()
        assertEquals(text, qrText(Luminance(bytes, 500, 480, stride)))
        assertNull(qrText(Luminance(ByteArray(stride * 480) { 90 }, 500, 480, stride)))
    }

    private fun luminance(picture: Bitmap): Luminance {
        val stride = picture.width + 24
        val bytes = ByteArray(stride * picture.height)
        for (y in 0 until picture.height) for (x in 0 until picture.width) {
            bytes[y * stride + x] = (Color.luminance(picture.getPixel(x, y)) * 255).toInt().toByte()
        }
        return Luminance(bytes, picture.width, picture.height, stride)
    }

    @Test
    fun `a text that is no invitation is refused with what to do, and nothing is lost`() {
        start()
        open("join")
        tap("Paste")
        assertTrue(root.texts().toString(), root.says("There is no text to paste."))
        paste("hello")
        tap(R.id.save)
        phone.worked()
        assertTrue(root.texts().toString(), root.says("That is no invitation."))
        tap("Done")
        assertEquals("hello", root.findViewById<EditText>(R.id.invitation).text.toString())
        kill()
        assertEquals("hello", root.findViewById<EditText>(R.id.invitation).text.toString())
    }

    @Test
    fun `a sync asks for what it needs, is seen while it goes on, and is called off`() {
        joined()
        desk.stop()
        exchanging.around = { enough ->
            while (!enough()) Thread.sleep(5)
            emptyList()
        }
        shadowOf(phone).denyPermissions(POST_NOTIFICATIONS)
        tap("Sync now")
        assertNull("not before the person was asked", phone.work.job)
        val asked = shadowOf(activity.get()).lastRequestedPermission
        assertEquals(listOf(POST_NOTIFICATIONS), asked.requestedPermissions.toList())
        activity.get().onRequestPermissionsResult(asked.requestCode, asked.requestedPermissions, intArrayOf(-1))
        assertNotNull("a refused notice refuses no sync", phone.work.job)
        assertEquals(WorkService::class.java.name, shadowOf(phone).nextStartedService.component?.className)
        val service = Robolectric.buildService(WorkService::class.java).create().startCommand(0, 1)
        assertTrue(root.texts().toString(), root.says("Looking for the other device"))
        val notice = shadowOf(phone.getSystemService(NotificationManager::class.java)).getNotification(WorkService.NOTICE)
        assertEquals("Looking for the other device …", notice.extras.getString(Notification.EXTRA_TEXT))
        assertTrue(notice.extras.getBoolean(Notification.EXTRA_PROGRESS_INDETERMINATE))
        assertEquals("Call it off", notice.actions.single().title)
        while (exchanging.asked.get() == 0) Thread.sleep(5)
        activity.get().recreate()
        ShadowLooper.idleMainLooper()

        service.get().onStartCommand(Intent().setAction(WorkService.CANCEL), 0, 2)
        phone.worked()
        assertTrue(root.texts().toString(), root.says("Called off."))
        ShadowLooper.idleMainLooper(1, java.util.concurrent.TimeUnit.SECONDS)
        assertTrue("the service ends with the work", shadowOf(service.get()).isStoppedBySelf)
        tap("Done")
    }

    @Test
    fun `nothing syncs by itself and a low battery is said`() {
        joined()
        while (shadowOf(phone).nextStartedService != null) Unit
        exchanging.low = true
        logASet()
        activity.get().back()
        open("exchange")
        assertTrue(root.texts().toString(), root.says("The battery is low"))
        ShadowLooper.idleMainLooper(1, java.util.concurrent.TimeUnit.HOURS)
        assertNull(shadowOf(phone).nextStartedService)
        assertNull(phone.work.job)
        assertEquals(0, exchanging.asked.get())
    }

    @Test
    fun `a file goes to the coach by the share sheet and one comes back`() {
        joined()
        logASet()
        activity.get().back()
        open("exchange")
        tap("Hand a file over")
        kill()
        assertTrue("what was begun is there again", root.says("For which device?"))
        val coach = core { it.exchange(env) }.devices.single()
        tap(coach.spoken)
        phone.worked()
        assertTrue(root.texts().toString(), root.says("A file for The coach's device"))
        tap("Pass the file on")
        val chooser = shadowOf(activity.get()).nextStartedActivity
        assertEquals(Intent.ACTION_CHOOSER, chooser.action)
        val send = checkNotNull(chooser.getParcelableExtra(Intent.EXTRA_INTENT, Intent::class.java))
        assertEquals(HandOver.TYPE, send.type)
        assertEquals(Intent.FLAG_GRANT_READ_URI_PERMISSION, send.flags and Intent.FLAG_GRANT_READ_URI_PERMISSION)
        val uri = checkNotNull(send.getParcelableExtra(Intent.EXTRA_STREAM, Uri::class.java))
        assertEquals(uri, send.clipData!!.getItemAt(0).uri)
        val shared = folder.newFile("shared")
        phone.contentResolver.openInputStream(uri)!!.use { from -> shared.outputStream().use(from::copyTo) }
        tap("Done")
        assertTrue(root.texts().toString(), root.says("in a file that was handed over today"))

        desk.stop()
        assertTrue("2 entries were new" in desk.run("file", "read", shared.path))
        val own = core { it.devices(env) }.devices.first { it.here }.id
        val back = File(folder.root, "back")
        desk.run("file", "write", back.path, "--to", own.take(12))
        val document = Uri.parse("content://mail/1")
        shadowOf(phone.contentResolver).registerInputStream(document, back.inputStream())
        tap("Take a file in")
        val picking = shadowOf(activity.get()).nextStartedActivityForResult
        assertEquals(Intent.ACTION_OPEN_DOCUMENT, picking.intent.action)
        shadowOf(activity.get()).receiveResult(picking.intent, Activity.RESULT_OK, Intent().setData(document))
        phone.worked()
        assertTrue(root.texts().toString(), root.says("The file is from The coach's device"))
        tap("Done")
        assertTrue(root.texts().toString(), root.says("with the coach, confirmed today at "))
        assertEquals("no copy is left", emptyList<String>(), phone.noBackupFilesDir.list().orEmpty().filter { it.startsWith("taken-in") })
    }

    @Test
    fun `a file that another app opens is taken in, and the exchange shows how it went`() {
        val document = Uri.parse("content://chat/9")
        shadowOf(phone.contentResolver).registerInputStream(document, "holiday".byteInputStream())
        val opened = Robolectric.buildActivity(FileActivity::class.java, Intent(Intent.ACTION_VIEW).setData(document)).create()
        assertTrue(opened.get().isFinishing)
        val next = shadowOf(opened.get()).nextStartedActivity
        assertEquals(MainActivity::class.java.name, next.component?.className)
        phone.worked()
        activity = Robolectric.buildActivity(MainActivity::class.java, next).setup()
        assertTrue(root.texts().toString(), root.says("That is no file of this app."))
    }

    @Test
    fun `only files that are passed on are given, and only to be read`() {
        val folder = Shared.folder(phone, HandOver.FOLDER)
        File(folder, "pitside-1.pitside").writeText("sealed")
        File(phone.noBackupFilesDir, "seed").writeText("secret")
        File(Shared.all(phone), "beside").writeText("secret")
        val provider = Robolectric.setupContentProvider(SharedProvider::class.java, Shared.AUTHORITY)
        val uri = { path: String -> Uri.parse("content://${Shared.AUTHORITY}/$path") }
        provider.openFile(uri("hand-over/pitside-1.pitside"), "r").close()
        val odds = listOf(
            "..%2Fseed", "../seed", "hand-over/..%2F..%2Fseed", "..%2F/seed", "hand-over/..%2Fbeside", "pitside-1.pitside", "", "hand-over",
            "hand-over/none.pitside", "hand-over/pitside-1.pitside/more",
        )
        for (odd in odds) {
            assertThrows(odd, FileNotFoundException::class.java) { provider.openFile(uri(odd), "r") }
            assertNull(odd, provider.query(uri(odd), null, null, null, null))
        }
        for (mode in listOf("w", "rw", "rwt")) {
            assertThrows(mode, FileNotFoundException::class.java) { provider.openFile(uri("hand-over/pitside-1.pitside"), mode) }
        }
        assertThrows(UnsupportedOperationException::class.java) { provider.delete(uri("hand-over/pitside-1.pitside"), null, null) }
        provider.query(uri("hand-over/pitside-1.pitside"), arrayOf(OpenableColumns.SIZE, "x"), null, null, null)!!.use { row ->
            row.moveToFirst()
            assertEquals(1, row.columnCount)
            assertEquals(6, row.getInt(0))
        }
    }

    @Test
    fun `addresses from the network are written as the core reads them`() {
        val at = { bytes: ByteArray -> NsdSearch.address(InetAddress.getByAddress(bytes), 4417) }
        assertEquals("192.0.2.7:4417", at(byteArrayOf(192.toByte(), 0, 2, 7)))
        val local = ByteArray(16).also { it[0] = 0xfe.toByte(); it[1] = 0x80.toByte(); it[15] = 1 }
        assertEquals("[fe80:0:0:0:0:0:0:1%3]:4417", NsdSearch.address(Inet6Address.getByAddress(null, local, 3), 4417))
        val global = ByteArray(16).also { it[0] = 0x20; it[1] = 1; it[15] = 7 }
        assertEquals("[2001:0:0:0:0:0:0:7]:4417", at(global))
    }

    @Test
    fun `the screen is one call and what was chosen is there again`() {
        start()
        phone.counted.taken()
        open("exchange")
        assertEquals(listOf("exchange"), phone.counted.taken())
        open("join")
        assertEquals(listOf("joinForm"), phone.counted.taken())
        val state = Bundle().also { activity.saveInstanceState(it) }
        assertTrue(state.size() > 0)
    }
}
