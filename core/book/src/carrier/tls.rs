//! TLS 1.3 with raw public keys, through rustls.

use std::sync::{Arc, OnceLock};

use pitside_model::facts::DeviceKey;
use rustls::client::AlwaysResolvesClientRawPublicKeys;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::crypto::{CryptoProvider, ring, verify_tls13_signature_with_raw_key};
use rustls::pki_types::{CertificateDer, PrivateKeyDer, ServerName, SubjectPublicKeyInfoDer, UnixTime};
use rustls::server::AlwaysResolvesServerRawPublicKeys;
use rustls::server::danger::{ClientCertVerified, ClientCertVerifier};
use rustls::sign::CertifiedKey;
use rustls::version::TLS13;
use rustls::{
    CertificateError, ClientConfig, DigitallySignedStruct, DistinguishedName, Error, ServerConfig,
    SignatureScheme,
};

use crate::keys::{Identity, from_spki, to_spki};

/// What both sides name the protocol, so that nothing else is spoken to.
pub(super) const ALPN: &[u8] = b"pitside/1";

/// The key that the other side proved, once it did.
pub(super) type Proved = Arc<OnceLock<DeviceKey>>;

fn provider() -> Arc<CryptoProvider> {
    Arc::new(ring::default_provider())
}

fn certified(identity: &Identity, provider: &CryptoProvider) -> Result<Arc<CertifiedKey>, Error> {
    let der = PrivateKeyDer::Pkcs8(identity.pkcs8().to_vec().into());
    let key = provider.key_provider.load_private_key(der)?;
    Ok(Arc::new(CertifiedKey::new(vec![CertificateDer::from(to_spki(identity.key()))], key)))
}

/// Calls as `identity` and speaks to `expected` only.
pub(super) fn client(
    identity: &Identity,
    expected: DeviceKey,
) -> Result<(rustls::ClientConnection, Proved), Error> {
    let provider = provider();
    let proved = Proved::default();
    let verifier =
        Pinned { expected: Some(expected), proved: Arc::clone(&proved), provider: Arc::clone(&provider) };
    let key = certified(identity, &provider)?;
    let mut config = ClientConfig::builder_with_provider(provider)
        .with_protocol_versions(&[&TLS13])?
        .dangerous()
        .with_custom_certificate_verifier(Arc::new(verifier))
        .with_client_cert_resolver(Arc::new(AlwaysResolvesClientRawPublicKeys::new(key)));
    config.alpn_protocols = vec![ALPN.to_vec()];
    config.resumption = rustls::client::Resumption::disabled();
    config.enable_sni = false;
    // The name is not sent and not checked: the key is.
    let name = ServerName::try_from("device.invalid").map_err(|e| Error::General(e.to_string()))?;
    Ok((rustls::ClientConnection::new(Arc::new(config), name)?, proved))
}

/// Is called as `identity`; learns the caller's key.
pub(super) fn server(identity: &Identity) -> Result<(rustls::ServerConnection, Proved), Error> {
    let provider = provider();
    let proved = Proved::default();
    let verifier = Pinned { expected: None, proved: Arc::clone(&proved), provider: Arc::clone(&provider) };
    let key = certified(identity, &provider)?;
    let mut config = ServerConfig::builder_with_provider(provider)
        .with_protocol_versions(&[&TLS13])?
        .with_client_cert_verifier(Arc::new(verifier))
        .with_cert_resolver(Arc::new(AlwaysResolvesServerRawPublicKeys::new(key)));
    config.alpn_protocols = vec![ALPN.to_vec()];
    config.send_tls13_tickets = 0;
    Ok((rustls::ServerConnection::new(Arc::new(config))?, proved))
}

#[derive(Debug)]
struct Pinned {
    expected: Option<DeviceKey>,
    proved: Proved,
    provider: Arc<CryptoProvider>,
}

impl Pinned {
    fn check(&self, key: &CertificateDer<'_>) -> Result<(), Error> {
        let found = from_spki(key).ok_or(Error::InvalidCertificate(CertificateError::BadEncoding))?;
        // One connection, one key: set once, and read when the handshake is over.
        let _ = self.proved.set(found);
        if self.expected.is_some_and(|expected| expected != found) {
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
