package pitside.phone

import android.security.keystore.KeyGenParameterSpec
import android.security.keystore.KeyProperties
import java.io.File
import java.io.FileOutputStream
import java.security.KeyStore
import java.security.SecureRandom
import javax.crypto.Cipher
import javax.crypto.KeyGenerator
import javax.crypto.SecretKey
import javax.crypto.spec.GCMParameterSpec

/** Where the device's 32 secret bytes are kept. */
fun interface SeedKeeper {
    /** The seed; it is made at the first call. */
    fun seed(): ByteArray
}

/**
 * A seed in a file, wrapped by an AES key that does not leave the Android key store.
 *
 * The file is a 12-byte nonce and the wrapped seed. A file that the key no longer opens is an
 * error and not a new seed: with another one the book would be another device's.
 */
class KeystoreSeed(private val file: File) : SeedKeeper {
    override fun seed(): ByteArray = if (file.exists()) unwrap(file.readBytes()) else make()

    private fun make(): ByteArray {
        val seed = ByteArray(32).also { SecureRandom().nextBytes(it) }
        val cipher = Cipher.getInstance(AES_GCM).apply { init(Cipher.ENCRYPT_MODE, key()) }
        val wrapped = cipher.iv + cipher.doFinal(seed)
        // Whole or not at all, also where the battery dies in between.
        val beside = File(file.path + ".new")
        FileOutputStream(beside).use {
            it.write(wrapped)
            it.fd.sync()
        }
        check(beside.renameTo(file)) { "${file.name} could not be put in its place" }
        return seed
    }

    private fun unwrap(wrapped: ByteArray): ByteArray {
        val cipher = Cipher.getInstance(AES_GCM)
        cipher.init(Cipher.DECRYPT_MODE, key(), GCMParameterSpec(128, wrapped, 0, NONCE))
        return cipher.doFinal(wrapped, NONCE, wrapped.size - NONCE)
    }

    private fun key(): SecretKey {
        val store = KeyStore.getInstance(STORE).apply { load(null) }
        (store.getKey(ALIAS, null) as SecretKey?)?.let { return it }
        val purposes = KeyProperties.PURPOSE_ENCRYPT or KeyProperties.PURPOSE_DECRYPT
        val spec = KeyGenParameterSpec.Builder(ALIAS, purposes)
            .setBlockModes(KeyProperties.BLOCK_MODE_GCM)
            .setEncryptionPaddings(KeyProperties.ENCRYPTION_PADDING_NONE)
            .setKeySize(256)
            .build()
        return KeyGenerator.getInstance(KeyProperties.KEY_ALGORITHM_AES, STORE).apply { init(spec) }.generateKey()
    }

    private companion object {
        const val STORE = "AndroidKeyStore"
        const val ALIAS = "pitside-seed"
        const val AES_GCM = "AES/GCM/NoPadding"
        const val NONCE = 12
    }
}
