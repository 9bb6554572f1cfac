//! TLS 1.3 with raw public keys, through rustls.

use std::sync::{Arc, OnceLock};

use pitside_log::seal::verify;
use pitside_model::facts::DeviceKey;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::client::{AlwaysResolvesClientRawPublicKeys, Resumption};
use rustls::crypto::ring::{cipher_suite, kx_group, sign};
use rustls::crypto::{CryptoProvider, GetRandomFailed, KeyProvider, SecureRandom, WebPkiSupportedAlgorithms};
use rustls::pki_types::{CertificateDer, PrivateKeyDer, ServerName, UnixTime};
use rustls::server::danger::{ClientCertVerified, ClientCertVerifier};
use rustls::server::{AlwaysResolvesServerRawPublicKeys, NoServerSessionStorage};
use rustls::sign::{CertifiedKey, SigningKey};
use rustls::version::TLS13;
use rustls::{
    CertificateError, ClientConfig, ClientConnection, DigitallySignedStruct, DistinguishedName, Error,
    PeerMisbehaved, ServerConfig, SignatureScheme,
};

use crate::keys::{Identity, from_spki, to_spki};

/// What both sides name the protocol (ALPN, RFC 7301), so that nothing else is
/// spoken to.
const ALPN: &[u8] = b"pitside/1";

/// What two devices need of each other and no more: one exchange of keys, one kind of signature,
/// the cipher that phones have in hardware and the one for those that have not. What nobody uses
/// is then in no phone's library either.
fn provider() -> Arc<CryptoProvider> {
    Arc::new(CryptoProvider {
        cipher_suites: vec![
            cipher_suite::TLS13_AES_128_GCM_SHA256,
            cipher_suite::TLS13_CHACHA20_POLY1305_SHA256,
        ],
        kx_groups: vec![kx_group::X25519],
        // For chains of certificates, which there are none of.
        signature_verification_algorithms: WebPkiSupportedAlgorithms { all: &[], mapping: &[] },
        secure_random: &System,
        key_provider: &System,
    })
}

/// The system's random bytes, and keys of devices.
#[derive(Debug)]
struct System;

impl SecureRandom for System {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), GetRandomFailed> {
        getrandom::fill(bytes).map_err(|_| GetRandomFailed)
    }
}

impl KeyProvider for System {
    fn load_private_key(&self, der: PrivateKeyDer<'static>) -> Result<Arc<dyn SigningKey>, Error> {
        match der {
            PrivateKeyDer::Pkcs8(der) => sign::any_eddsa_type(&der),
            _ => Err(Error::General("a device's key is PKCS #8".to_owned())),
        }
    }
}

fn certified(identity: &Identity, provider: &CryptoProvider) -> Result<Arc<CertifiedKey>, Error> {
    let der = PrivateKeyDer::Pkcs8(identity.pkcs8().to_vec().into());
    let key = provider.key_provider.load_private_key(der)?;
    Ok(Arc::new(CertifiedKey::new(vec![CertificateDer::from(to_spki(identity.key()))], key)))
}

/// What calls as one device and speaks to one other only, or to whoever answers.
#[derive(Clone, Debug)]
pub(super) struct Caller {
    config: Arc<ClientConfig>,
    pinned: Arc<Pinned>,
}

impl Caller {
    pub(super) fn new(identity: &Identity, expected: Option<DeviceKey>) -> Result<Self, Error> {
        let provider = provider();
        let pinned = Pinned::new(expected);
        let key = certified(identity, &provider)?;
        let mut config = ClientConfig::builder_with_provider(provider)
            .with_protocol_versions(&[&TLS13])?
            .dangerous()
            .with_custom_certificate_verifier(Arc::clone(&pinned) as Arc<dyn ServerCertVerifier>)
            .with_client_cert_resolver(Arc::new(AlwaysResolvesClientRawPublicKeys::new(key)));
        config.alpn_protocols = vec![ALPN.to_vec()];
        config.resumption = Resumption::disabled();
        config.enable_early_data = false;
        config.enable_sni = false;
        Ok(Self { config: Arc::new(config), pinned })
    }

    pub(super) fn connection(&self) -> Result<ClientConnection, Error> {
        // The name is not sent and not checked: the key is.
        let name = ServerName::try_from("device.invalid").map_err(|e| Error::General(e.to_string()))?;
        ClientConnection::new(Arc::clone(&self.config), name)
    }

    /// The key expected and the other one that was shown instead, if one was.
    pub(super) fn wrong_key(&self) -> Option<(DeviceKey, DeviceKey)> {
        self.pinned.expected.zip(self.pinned.other.get().copied())
    }
}

/// Is called as `identity`, by whoever has a key.
pub(super) fn called(identity: &Identity) -> Result<Arc<ServerConfig>, Error> {
    let provider = provider();
    let verifier = Pinned::new(None);
    let key = certified(identity, &provider)?;
    let mut config = ServerConfig::builder_with_provider(provider)
        .with_protocol_versions(&[&TLS13])?
        .with_client_cert_verifier(verifier)
        .with_cert_resolver(Arc::new(AlwaysResolvesServerRawPublicKeys::new(key)));
    config.alpn_protocols = vec![ALPN.to_vec()];
    config.session_storage = Arc::new(NoServerSessionStorage {});
    config.send_tls13_tickets = 0;
    config.max_early_data_size = 0;
    Ok(Arc::new(config))
}

/// The key that the other side proved, once the handshake is over.
pub(super) fn proved(tls: &rustls::Connection) -> Result<DeviceKey, Error> {
    // A caller that offers no protocol gets through the handshake.
    if tls.alpn_protocol() != Some(ALPN) {
        return Err(Error::NoApplicationProtocol);
    }
    match tls.peer_certificates() {
        Some([key]) => device_key(key),
        _ => Err(Error::NoCertificatesPresented),
    }
}

/// With raw public keys, what the library calls a certificate is the
/// `SubjectPublicKeyInfo` alone.
fn device_key(shown: &CertificateDer<'_>) -> Result<DeviceKey, Error> {
    from_spki(shown).ok_or(Error::InvalidCertificate(CertificateError::BadEncoding))
}

/// Takes one key, or every key; that its owner can sign with it is checked in
/// either case.
#[derive(Debug)]
struct Pinned {
    expected: Option<DeviceKey>,
    /// The other key that was shown where one was expected.
    other: OnceLock<DeviceKey>,
}

impl Pinned {
    fn new(expected: Option<DeviceKey>) -> Arc<Self> {
        Arc::new(Self { expected, other: OnceLock::new() })
    }

    fn check(&self, shown: &CertificateDer<'_>) -> Result<(), Error> {
        let found = device_key(shown)?;
        if self.expected.is_some_and(|expected| expected != found) {
            // The first one shown is as good as any.
            let _ = self.other.set(found);
            // Told to the other side as the alert access_denied.
            return Err(Error::InvalidCertificate(CertificateError::ApplicationVerificationFailure));
        }
        Ok(())
    }
}

/// Whether the key's owner signed the handshake.
fn check_signature(
    message: &[u8],
    key: &CertificateDer<'_>,
    signed: &DigitallySignedStruct,
) -> Result<HandshakeSignatureValid, Error> {
    // Nothing else is offered, so nothing else may be chosen.
    if signed.scheme != SignatureScheme::ED25519 {
        return Err(PeerMisbehaved::SignedHandshakeWithUnadvertisedSigScheme.into());
    }
    let bad = || Error::InvalidCertificate(CertificateError::BadSignature);
    let signature = signed.signature().try_into().map_err(|_| bad())?;
    if verify(device_key(key)?, message, signature) {
        Ok(HandshakeSignatureValid::assertion())
    } else {
        Err(bad())
    }
}

/// TLS 1.2 is not offered; this says so where the trait asks.
fn no_tls12() -> Result<HandshakeSignatureValid, Error> {
    Err(Error::General("TLS 1.2 is not spoken".to_owned()))
}

impl ServerCertVerifier for Pinned {
    fn verify_server_cert(
        &self,
        end_entity: &CertificateDer<'_>,
        _: &[CertificateDer<'_>],
        _: &ServerName<'_>,
        _: &[u8],
        _: UnixTime,
    ) -> Result<ServerCertVerified, Error> {
        self.check(end_entity).map(|()| ServerCertVerified::assertion())
    }
    fn verify_tls12_signature(
        &self,
        _: &[u8],
        _: &CertificateDer<'_>,
        _: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        no_tls12()
    }
    fn verify_tls13_signature(
        &self,
        message: &[u8],
        key: &CertificateDer<'_>,
        signature: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        check_signature(message, key, signature)
    }
    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        vec![SignatureScheme::ED25519]
    }
    fn requires_raw_public_keys(&self) -> bool {
        true
    }
}

impl ClientCertVerifier for Pinned {
    fn root_hint_subjects(&self) -> &[DistinguishedName] {
        &[]
    }
    fn verify_client_cert(
        &self,
        end_entity: &CertificateDer<'_>,
        _: &[CertificateDer<'_>],
        _: UnixTime,
    ) -> Result<ClientCertVerified, Error> {
        self.check(end_entity).map(|()| ClientCertVerified::assertion())
    }
    fn verify_tls12_signature(
        &self,
        _: &[u8],
        _: &CertificateDer<'_>,
        _: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        no_tls12()
    }
    fn verify_tls13_signature(
        &self,
        message: &[u8],
        key: &CertificateDer<'_>,
        signature: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        check_signature(message, key, signature)
    }
    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        vec![SignatureScheme::ED25519]
    }
    fn requires_raw_public_keys(&self) -> bool {
        true
    }
}
