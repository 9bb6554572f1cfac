package pitside.phone.exchange

import android.annotation.SuppressLint
import android.content.Context
import android.graphics.ImageFormat
import android.graphics.Matrix
import android.graphics.RectF
import android.graphics.SurfaceTexture
import android.hardware.camera2.CameraAccessException
import android.hardware.camera2.CameraCaptureSession
import android.hardware.camera2.CameraCharacteristics
import android.hardware.camera2.CameraDevice
import android.hardware.camera2.CameraManager
import android.hardware.camera2.CaptureRequest
import android.media.Image
import android.media.ImageReader
import android.os.Handler
import android.os.HandlerThread
import android.util.Size
import android.view.Surface
import android.view.TextureView

/** The camera at the back, as it is; no picture is kept. */
class CameraSight(context: Context) : Sight {
    private val manager = context.getSystemService(CameraManager::class.java)
    private var thread: HandlerThread? = null
    private var camera: CameraDevice? = null
    private var reader: ImageReader? = null

    @Volatile
    private var open = false

    override fun open(onto: TextureView, seen: (Luminance) -> Unit, failed: () -> Unit) {
        // Its surface goes when the screen is left and comes when it is back, and the camera with it.
        onto.surfaceTextureListener = object : TextureView.SurfaceTextureListener {
            override fun onSurfaceTextureAvailable(texture: SurfaceTexture, width: Int, height: Int) =
                begin(texture, onto, seen) { if (open) onto.post(failed) }
            override fun onSurfaceTextureSizeChanged(texture: SurfaceTexture, width: Int, height: Int) = Unit
            override fun onSurfaceTextureUpdated(texture: SurfaceTexture) = Unit
            override fun onSurfaceTextureDestroyed(texture: SurfaceTexture): Boolean {
                close()
                return true
            }
        }
    }

    override fun close() {
        open = false
        camera?.close()
        camera = null
        reader?.close()
        reader = null
        thread?.quitSafely()
        thread = null
    }

    /** The screen asked for the permission before it opened this. */
    @SuppressLint("MissingPermission")
    private fun begin(texture: SurfaceTexture, onto: TextureView, seen: (Luminance) -> Unit, failed: () -> Unit) {
        open = true
        val handler = Handler(HandlerThread("sight").also { thread = it; it.start() }.looper)
        try {
            val id = manager.cameraIdList.firstOrNull { facing(it) == CameraCharacteristics.LENS_FACING_BACK } ?: manager.cameraIdList.firstOrNull()
            if (id == null) return failed()
            val size = size(id)
            texture.setDefaultBufferSize(size.width, size.height)
            upright(onto, size)
            val reader = ImageReader.newInstance(size.width, size.height, ImageFormat.YUV_420_888, 2)
            reader.setOnImageAvailableListener({ it.acquireLatestImage()?.use { image -> seen(luminance(image)) } }, handler)
            this.reader = reader
            manager.openCamera(id, Opened(listOf(Surface(texture), reader.surface), handler, failed), handler)
        } catch (_: CameraAccessException) {
            failed()
        } catch (_: SecurityException) {
            failed()
        }
    }

    private fun facing(id: String): Int? = manager.getCameraCharacteristics(id).get(CameraCharacteristics.LENS_FACING)

    /** Enough pixels for a code of four hundred letters, and few enough to be read at once. */
    private fun size(id: String): Size {
        val sizes = manager.getCameraCharacteristics(id).get(CameraCharacteristics.SCALER_STREAM_CONFIGURATION_MAP)?.getOutputSizes(ImageFormat.YUV_420_888)
        val enough = sizes.orEmpty().filter { it.width <= 1_920 }
        return enough.maxByOrNull { it.width * it.height } ?: Size(1_280, 720)
    }

    /** The buffer is drawn turned by the system and stretched to the view: takes the stretch back. */
    private fun upright(onto: TextureView, size: Size) {
        val view = RectF(0f, 0f, onto.width.toFloat(), onto.height.toFloat())
        val (width, height) = if (onto.height >= onto.width) size.height to size.width else size.width to size.height
        val scale = maxOf(view.width() / width, view.height() / height)
        val matrix = Matrix().apply {
            setScale(width * scale / view.width(), height * scale / view.height(), view.centerX(), view.centerY())
        }
        onto.post { onto.setTransform(matrix) }
    }

    private fun luminance(image: Image): Luminance {
        val plane = image.planes[0]
        val bytes = ByteArray(plane.buffer.remaining()).also { plane.buffer.get(it) }
        // The last row may end with its last pixel.
        val rows = plane.rowStride * image.height
        return Luminance(if (bytes.size < rows) bytes.copyOf(rows) else bytes, image.width, image.height, plane.rowStride)
    }

    private inner class Opened(private val surfaces: List<Surface>, private val handler: Handler, private val failed: () -> Unit) :
        CameraDevice.StateCallback() {
        override fun onOpened(device: CameraDevice) {
            if (!open) return device.close()
            camera = device
            try {
                @Suppress("DEPRECATION")
                device.createCaptureSession(surfaces, Session(device), handler)
            } catch (_: CameraAccessException) {
                failed()
            }
        }

        override fun onDisconnected(device: CameraDevice) {
            device.close()
            failed()
        }

        override fun onError(device: CameraDevice, error: Int) {
            device.close()
            failed()
        }

        private inner class Session(private val device: CameraDevice) : CameraCaptureSession.StateCallback() {
            override fun onConfigured(session: CameraCaptureSession) {
                try {
                    val request = device.createCaptureRequest(CameraDevice.TEMPLATE_PREVIEW).apply {
                        surfaces.forEach(::addTarget)
                        set(CaptureRequest.CONTROL_AF_MODE, CaptureRequest.CONTROL_AF_MODE_CONTINUOUS_PICTURE)
                    }
                    session.setRepeatingRequest(request.build(), null, handler)
                } catch (_: CameraAccessException) {
                    failed()
                } catch (_: IllegalStateException) {
                    // It was closed in between, or says so.
                    failed()
                }
            }

            override fun onConfigureFailed(session: CameraCaptureSession) = failed()
        }
    }
}
