package site.truefall.instrument

import android.os.Bundle
import android.view.WindowManager
import androidx.activity.enableEdgeToEdge

/** The one screen of the program. In the place of the file of this name in the generated project. */
class MainActivity : TauriActivity() {
  override fun onCreate(savedInstanceState: Bundle?) {
    // The screens keep clear of notches and bars by themselves.
    enableEdgeToEdge()
    super.onCreate(savedInstanceState)
    // Hands are wet and gloved: the glass stays lit as long as the program is in front.
    window.addFlags(WindowManager.LayoutParams.FLAG_KEEP_SCREEN_ON)
  }
}
