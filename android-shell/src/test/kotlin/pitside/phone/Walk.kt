package pitside.phone

import android.graphics.Bitmap
import android.graphics.Canvas
import android.graphics.Color
import android.view.View
import android.view.ViewGroup
import android.widget.Button
import android.widget.ScrollView
import android.widget.TextView
import java.io.File
import java.io.FileOutputStream

/** Every view of a screen, from the outside in. */
fun View.all(): Sequence<View> = sequence {
    yield(this@all)
    if (this@all is ViewGroup) for (at in 0 until childCount) yieldAll(getChildAt(at).all())
}

fun View.button(spoken: String): Button =
    all().filterIsInstance<Button>().first { (it.contentDescription ?: it.text).toString() == spoken }

fun View.texts(): List<String> = all().filterIsInstance<TextView>().map { it.text.toString() }.toList()

/** How the core shows a key that a language does not say. */
private val NO_WORDS = Regex("\\[[a-z0-9-]+]")

/** What is wrong with a screen for a finger, an eye or a reader; empty where nothing is. */
fun faults(root: View): List<String> {
    val density = root.resources.displayMetrics.density
    val found = mutableListOf<String>()
    for (view in root.all().filter { it.isShown }) {
        val name = "${view.javaClass.simpleName} '${(view as? TextView)?.text ?: view.contentDescription}'"
        if (view.isClickable) {
            if (view.height < 48 * density - 1 || view.width < 48 * density - 1) {
                found += "$name is ${view.width / density} × ${view.height / density} dp"
            }
            val info = view.createAccessibilityNodeInfo()
            if (info.text.isNullOrBlank() && info.contentDescription.isNullOrBlank()) found += "$name says nothing"
        }
        if (view is TextView && view.text.isNotEmpty()) {
            if (NO_WORDS.containsMatchIn(view.text)) found += "$name has no words in this language"
            val layout = view.layout
            if (layout == null) {
                found += "$name was not laid out"
            } else {
                if (layout.height + view.compoundPaddingTop + view.compoundPaddingBottom > view.height + 1) found += "$name is cut in height"
                for (line in 0 until layout.lineCount) if (layout.getEllipsisCount(line) > 0) found += "$name is cut"
            }
            if (view.width == 0) found += "$name has no width"
        }
    }
    return found
}

/** Words that stand in English sentences only. */
private val ENGLISH = listOf(
    " the ", " and ", " of ", " is ", " are ", " with ", " not ", " to ", "The ", "expected", "there is", "estimate", " ours", "memory", "source", "cue:",
)

/** What the invented people wrote themselves stays as they wrote it, in whatever language. */
private val AS_WRITTEN = listOf(
    "bounds and hops from a stand", "learning to land and rebound", "bounds with a short run-in", "back after an ankle sprain",
    "On the grass, if it is dry", "On grass, if it is dry", "quick off the ground", "wait for the ground", "meet the ground", "Bring the flat shoes",
)

/** What a screen says in English, to an eye or to a reader, on a phone whose language is another. */
fun english(root: View): List<String> = root.all().filter { it.isShown }
    .flatMap { listOf((it as? TextView)?.text, it.contentDescription) }
    .mapNotNull { it?.toString() }
    .filter { text -> AS_WRITTEN.fold(" $text ") { bare, written -> bare.replace(written, "") }.let { bare -> ENGLISH.any { it in bare } } }
    .distinct().map { "'$it' is English" }.toList()

/** Draws a whole screen, what scrolls to its end, and has a `look` at it while it is laid out so. */
fun <T> picture(root: View, name: String, look: (Bitmap) -> T): T {
    val scroll = root.all().filterIsInstance<ScrollView>().firstOrNull()
    val more = scroll?.let { (it.getChildAt(0).height - it.height).coerceAtLeast(0) } ?: 0
    val (width, height) = root.width to root.height
    if (more > 0) lay(root, width, height + more)
    val bitmap = Bitmap.createBitmap(width, root.height, Bitmap.Config.ARGB_8888)
    root.draw(Canvas(bitmap))
    System.getenv("PITSIDE_PICTURES")?.let { folder ->
        File(folder).mkdirs()
        FileOutputStream(File(folder, "$name.png")).use { bitmap.compress(Bitmap.CompressFormat.PNG, 100, it) }
    }
    return look(bitmap).also { if (more > 0) lay(root, width, height) }
}

private fun lay(root: View, width: Int, height: Int) {
    root.measure(View.MeasureSpec.makeMeasureSpec(width, View.MeasureSpec.EXACTLY), View.MeasureSpec.makeMeasureSpec(height, View.MeasureSpec.EXACTLY))
    root.layout(0, 0, width, height)
}

/**
 * The contrast of every text as it was drawn: between the commonest colour in its rectangle and
 * the one in it that differs most (WCAG 2.2, success criterion 1.4.3: 4.5 to 1, for large text 3 to
 * 1; where more contrast is asked for, 1.4.6: 7 to 1 and 4.5 to 1).
 */
fun pale(root: View, drawn: Bitmap, high: Boolean): List<String> {
    val found = mutableListOf<String>()
    for (text in root.all().filterIsInstance<TextView>().filter { it.isShown && it.text.isNotBlank() }) {
        val at = IntArray(2).also(text::getLocationInWindow)
        if (at[0] < 0 || at[0] + text.width > drawn.width || at[1] < 0 || at[1] + text.height > drawn.height || text.width == 0) continue
        val counts = HashMap<Int, Int>()
        val pixels = IntArray(text.width * text.height)
        drawn.getPixels(pixels, 0, text.width, at[0], at[1], text.width, text.height)
        pixels.forEach { counts.merge(it, 1, Int::plus) }
        val ground = counts.maxBy { it.value }.key
        val contrast = counts.keys.maxOf { contrast(it, ground) }
        val large = text.textSize >= 24 * text.resources.displayMetrics.density
        val least = if (high) (if (large) 4.5 else 7.0) else (if (large) 3.0 else 4.5)
        if (contrast < least) found += "'${text.text}' has a contrast of %.1f".format(contrast)
    }
    return found
}

fun contrast(a: Int, b: Int): Double {
    val (x, y) = Color.luminance(a) + 0.05 to Color.luminance(b) + 0.05
    return (maxOf(x, y) / minOf(x, y)).toDouble()
}
