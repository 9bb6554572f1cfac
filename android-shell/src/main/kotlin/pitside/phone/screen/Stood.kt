package pitside.phone.screen

import android.view.View
import android.view.ViewGroup
import android.widget.EditText
import android.widget.TextView

/** Every view in it, itself first. */
internal fun View.within(): Sequence<View> = sequence {
    yield(this@within)
    if (this@within is ViewGroup) for (at in 0 until childCount) yieldAll(getChildAt(at).within())
}

/** Where somebody was on a screen that is drawn anew: at a view of that id or of those words, the how manieth of them. */
internal class Stood private constructor(private val id: Int, private val words: String, private val number: Int, private val cursor: Int?) {
    /** The view that stands there now; `null` where none does. */
    fun find(root: View): View? {
        val alike = alike(root, id, words).toList()
        val found = alike.getOrNull(number) ?: alike.lastOrNull()
        if (found is EditText && cursor != null) found.setSelection(cursor.coerceIn(0, found.length()))
        return found
    }

    companion object {
        fun of(root: View, view: View) =
            Stood(view.id, words(view), alike(root, view.id, words(view)).indexOf(view), (view as? EditText)?.selectionStart)

        private fun alike(root: View, id: Int, words: String) =
            root.within().filter { it.id == id && (id != View.NO_ID || words.isNotEmpty() && words(it) == words) }

        private fun words(view: View): String = (view.contentDescription ?: (view as? TextView)?.text.takeIf { view !is EditText })?.toString().orEmpty()
    }
}
