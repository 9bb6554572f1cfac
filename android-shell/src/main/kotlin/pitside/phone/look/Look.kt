package pitside.phone.look

import android.content.Context
import android.content.res.Configuration
import android.graphics.Color
import kotlin.math.roundToInt

/**
 * Colours. After Okabe & Ito 2008: blue and sky blue for what can be done, vermillion and orange
 * beside a caution; meaning is never told by colour alone.
 */
class Colours(
    /** Behind everything. */
    val ground: Int,
    /** Behind what can be touched. */
    val raised: Int,
    /** Text. */
    val ink: Int,
    /** Text that stands back. */
    val soft: Int,
    /** Lines and the edges of what can be touched. */
    val edge: Int,
    /** The main thing to do, and what is chosen. */
    val accent: Int,
    /** Text on it. */
    val onAccent: Int,
    /** The bar beside a caution. */
    val caution: Int,
)

private fun colours(ground: String, raised: String, ink: String, soft: String, edge: String, accent: String, onAccent: String, caution: String) =
    Colours(
        Color.parseColor(ground), Color.parseColor(raised), Color.parseColor(ink), Color.parseColor(soft),
        Color.parseColor(edge), Color.parseColor(accent), Color.parseColor(onAccent), Color.parseColor(caution),
    )

private val LIGHT = colours("#FAF8F2", "#FFFFFF", "#15181B", "#50565B", "#7D8388", "#0072B2", "#FFFFFF", "#D55E00")
private val DARK = colours("#0F1316", "#1B2126", "#F3F1EC", "#B9BFC4", "#7D868D", "#56B4E9", "#0F1316", "#E69F00")

/** For the sun, and for eyes that need it: nothing stands back. */
private val LIGHT_HIGH = colours("#FFFFFF", "#FFFFFF", "#000000", "#000000", "#000000", "#005A8C", "#FFFFFF", "#A34700")
private val DARK_HIGH = colours("#000000", "#000000", "#FFFFFF", "#FFFFFF", "#FFFFFF", "#F0E442", "#000000", "#E69F00")

/** What every screen looks like: colours, spacing, sizes of type and of what is touched. */
class Look(private val context: Context, val high: Boolean) {
    private val configuration = context.resources.configuration

    val colours: Colours = run {
        val night = configuration.uiMode and Configuration.UI_MODE_NIGHT_MASK == Configuration.UI_MODE_NIGHT_YES
        when {
            night && high -> DARK_HIGH
            night -> DARK
            high -> LIGHT_HIGH
            else -> LIGHT
        }
    }

    fun dp(n: Int): Int = (n * context.resources.displayMetrics.density).roundToInt()

    /** Edges are thicker where contrast is asked for. */
    val edge: Int = dp(if (high) 3 else 1)

    /** Steps of distance, in dp. */
    object Space {
        const val SMALL = 8
        const val MIDDLE = 16
        const val LARGE = 28
    }

    /** Sizes of type, in sp: they follow what the person set. */
    object Type {
        const val SMALL = 15f
        const val BODY = 17f
        const val LARGE = 20f
        const val TITLE = 28f
        const val FIGURE = 34f
        const val CLOCK = 56f
    }

    /** Least heights of what is touched, in dp: cold hands, one thumb. */
    object Touch {
        const val SMALL = 52
        const val WIDE = 68
    }
}
