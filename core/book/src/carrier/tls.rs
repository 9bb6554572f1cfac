//! TLS 1.3 with raw public keys, through rustls.

use std::sync::{Arc, OnceLock};

use pitside_model::facts::DeviceKey;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::client::{AlwaysResolvesClientRawPublicKeys, Resumption};
use rustls::crypto::{CryptoProvider, ring, verify_tls13_signature_with_raw_key};
use rustls::pki_types::{CertificateDer, PrivateKeyDer, ServerName, SubjectPublicKeyInfoDer, UnixTime};
use rustls::server::danger::{ClientCertVerified, ClientCertVerifier};
use rustls::server::{AlwaysResolvesServerRawPublicKeys, NoServerSessionStorage};
use rustls::sign::CertifiedKey;
use rustls::version::TLS13;
use rustls::{
    CertificateError, ClientConfig, ClientConnection, DigitallySignedStruct, DistinguishedName, Error,
    ServerConfig, SignatureScheme,
};

use crate::keys::{Identity, from_spki, to_spki};

/// What both sides name the protocol (ALPN, RFC 7301), so that nothing else is
/// spoken to.
const ALPN: &[u8] = b"pitside/1";

fn provider() -> Arc<CryptoProvider> {
    Arc::new(ring::default_provider())
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
        let pinned = Pinned::new(expected, &provider);
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
    let verifier = Pinned::new(None, &provider);
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
    provider: Arc<CryptoProvider>,
}

impl Pinned {
    fn new(expected: Option<DeviceKey>, provider: &Arc<CryptoProvider>) -> Arc<Self> {
        Arc::new(Self { expected, other: OnceLock::new(), provider: Arc::clone(provider) })
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

    fn check_signature(
        &self,
        message: &[u8],
        key: &CertificateDer<'_>,
        signature: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        let spki = SubjectPublicKeyInfoDer::from(key.as_ref());
        let algorithms = &self.provider.signature_verification_algorithms;
        verify_tls13_signature_with_raw_key(message, &spki, signature, algorithms)
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
        self.check_signature(message, key, signature)
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
        self.check_signature(message, key, signature)
    }
    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        vec![SignatureScheme::ED25519]
    }
    fn requires_raw_public_keys(&self) -> bool {
        true
    }
}
