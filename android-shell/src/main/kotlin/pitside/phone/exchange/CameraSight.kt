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
    private var opened: Opened? = null

    override fun open(onto: TextureView, seen: (Luminance) -> Unit, failed: () -> Unit) {
        // Its surface goes when the screen is left and comes when it is back, and the camera with it.
        onto.surfaceTextureListener = object : TextureView.SurfaceTextureListener {
            override fun onSurfaceTextureAvailable(texture: SurfaceTexture, width: Int, height: Int) {
                close()
                opened = Opened(seen) { onto.post(failed) }.also { it.begin(texture, onto) }
            }
            override fun onSurfaceTextureSizeChanged(texture: SurfaceTexture, width: Int, height: Int) = Unit
            override fun onSurfaceTextureUpdated(texture: SurfaceTexture) = Unit
            override fun onSurfaceTextureDestroyed(texture: SurfaceTexture): Boolean {
                close()
                return true
            }
        }
    }

    override fun close() {
        opened?.close()
        opened = null
    }

    /** One opening of the camera. What it holds is touched on its own thread alone. */
    private inner class Opened(private val seen: (Luminance) -> Unit, private val failed: () -> Unit) : CameraDevice.StateCallback() {
        private val thread = HandlerThread("sight").apply { start() }
        private val handler = Handler(thread.looper)
        private var camera: CameraDevice? = null
        private var reader: ImageReader? = null
        private var surface: Surface? = null

        /** The system was asked for the camera and has not answered. */
        private var pending = false

        @Volatile
        private var closed = false

        /** On the main thread, which alone may ask a view. */
        fun begin(texture: SurfaceTexture, onto: TextureView) {
            val view = RectF(0f, 0f, onto.width.toFloat(), onto.height.toFloat())
            val turn = QUARTER * (onto.display?.rotation ?: Surface.ROTATION_0)
            handler.post {
                tried {
                    val id = manager.cameraIdList.firstOrNull { of(it, CameraCharacteristics.LENS_FACING) == CameraCharacteristics.LENS_FACING_BACK }
                        ?: manager.cameraIdList.first()
                    val size = size(id)
                    val matrix = upright(view, size, of(id, CameraCharacteristics.SENSOR_ORIENTATION) ?: QUARTER, turn)
                    onto.post { if (!closed) onto.setTransform(matrix) }
                    open(id, size, texture)
                }
            }
        }

        /** The screen asked for the permission before it opened this. */
        @SuppressLint("MissingPermission")
        private fun open(id: String, size: Size, texture: SurfaceTexture) {
            if (closed) return
            texture.setDefaultBufferSize(size.width, size.height)
            surface = Surface(texture)
            reader = ImageReader.newInstance(size.width, size.height, ImageFormat.YUV_420_888, 2).apply {
                setOnImageAvailableListener({ if (!closed) it.acquireLatestImage()?.use { image -> seen(luminance(image)) } }, handler)
            }
            manager.openCamera(id, this, handler)
            pending = true
        }

        fun close() {
            closed = true
            handler.post { if (!pending) letGo() }
        }

        /** Only then, for the camera answers on this thread, also that it was closed. */
        private fun letGo() {
            val camera = camera
            this.camera = null
            if (camera == null) end() else camera.close()
        }

        private fun end() {
            reader?.close()
            reader = null
            surface?.release()
            surface = null
            thread.quitSafely()
        }

        /** A camera that is taken away throws whatever it is asked next. */
        private inline fun tried(call: () -> Unit) {
            try {
                call()
            } catch (_: CameraAccessException) {
                fail()
            } catch (_: SecurityException) {
                fail()
            } catch (_: IllegalStateException) {
                fail()
            } catch (_: IllegalArgumentException) {
                fail()
            } catch (_: NoSuchElementException) {
                fail()
            }
        }

        private fun fail() {
            if (!closed) failed()
        }

        override fun onOpened(device: CameraDevice) {
            pending = false
            camera = device
            if (closed) return letGo()
            @Suppress("DEPRECATION")
            tried { device.createCaptureSession(listOfNotNull(surface, reader?.surface), session(device), handler) }
        }

        override fun onDisconnected(device: CameraDevice) = gone(device)

        override fun onError(device: CameraDevice, error: Int) = gone(device)

        private fun gone(device: CameraDevice) {
            pending = false
            camera = device
            fail()
            if (closed) letGo()
        }

        override fun onClosed(device: CameraDevice) = end()

        private fun session(device: CameraDevice) = object : CameraCaptureSession.StateCallback() {
            override fun onConfigured(session: CameraCaptureSession) = tried {
                if (closed) return@tried
                val request = device.createCaptureRequest(CameraDevice.TEMPLATE_PREVIEW).apply {
                    listOfNotNull(surface, reader?.surface).forEach(::addTarget)
                    set(CaptureRequest.CONTROL_AF_MODE, CaptureRequest.CONTROL_AF_MODE_CONTINUOUS_PICTURE)
                }
                session.setRepeatingRequest(request.build(), null, handler)
            }

            override fun onConfigureFailed(session: CameraCaptureSession) = fail()
        }
    }

    private fun <T> of(id: String, key: CameraCharacteristics.Key<T>): T? = manager.getCameraCharacteristics(id).get(key)

    /** Enough pixels for a code of four hundred letters, and few enough to be read at once. */
    private fun size(id: String): Size {
        val sizes = of(id, CameraCharacteristics.SCALER_STREAM_CONFIGURATION_MAP)?.getOutputSizes(ImageFormat.YUV_420_888).orEmpty()
        val most = MOST.width * MOST.height
        return sizes.filter { it.width * it.height <= most }.maxByOrNull { it.width * it.height } ?: sizes.minByOrNull { it.width * it.height } ?: MOST
    }

    private fun luminance(image: Image): Luminance {
        val plane = image.planes[0]
        val bytes = ByteArray(plane.buffer.remaining()).also { plane.buffer.get(it) }
        // The last row may end with its last pixel.
        val rows = plane.rowStride * image.height
        return Luminance(if (bytes.size < rows) bytes.copyOf(rows) else bytes, image.width, image.height, plane.rowStride)
    }

    internal companion object {
        val MOST = Size(1_280, 720)
        private const val QUARTER = 90

        /**
         * What shows a picture upright in a view and covers it. The system turns it for the phone as
         * it is held by itself, by the sensor's turn, and stretches it to the view; the stretch is
         * taken back, then `turned` degrees by which the display is.
         */
        fun upright(view: RectF, size: Size, sensor: Int, turned: Int): Matrix {
            val across = sensor % 180 != 0
            val (wide, high) = (if (across) size.height else size.width).toFloat() to (if (across) size.width else size.height).toFloat()
            val aside = turned % 180 != 0
            val scale = maxOf(view.width() / if (aside) high else wide, view.height() / if (aside) wide else high)
            return Matrix().apply {
                setScale(wide * scale / view.width(), high * scale / view.height(), view.centerX(), view.centerY())
                postRotate(-turned.toFloat(), view.centerX(), view.centerY())
            }
        }
    }
}
