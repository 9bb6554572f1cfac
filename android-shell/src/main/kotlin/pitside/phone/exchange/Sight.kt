package pitside.phone.exchange

import android.view.TextureView
import com.google.zxing.BinaryBitmap
import com.google.zxing.DecodeHintType
import com.google.zxing.PlanarYUVLuminanceSource
import com.google.zxing.ReaderException
import com.google.zxing.common.HybridBinarizer
import com.google.zxing.qrcode.QRCodeReader

/** What the camera sees. */
interface Sight {
    /** Shows it, and hands each picture to `seen` on a thread of its own, until it is closed. */
    fun open(onto: TextureView, seen: (Luminance) -> Unit, failed: () -> Unit)

    fun close()
}

/** The brightness of a picture, a byte a pixel; a row takes `stride` bytes. */
class Luminance(val bytes: ByteArray, val width: Int, val height: Int, val stride: Int)

/** The text of a QR code in a picture; `null` where there is none that can be read. */
fun qrText(picture: Luminance): String? {
    val source = PlanarYUVLuminanceSource(picture.bytes, picture.stride, picture.height, 0, 0, picture.width, picture.height, false)
    return try {
        QRCodeReader().decode(BinaryBitmap(HybridBinarizer(source)), mapOf(DecodeHintType.TRY_HARDER to true)).text
    } catch (_: ReaderException) {
        null
    }
}
