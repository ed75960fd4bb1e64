//! The key of a seal, signing and verifying.

use super::NAMESPACE;
use ssh_key::private::{Ed25519Keypair, KeypairData};
use ssh_key::rand_core::OsRng;
use ssh_key::{Algorithm, HashAlg, LineEnding, PrivateKey, SshSig};

/// Why a key or a seal is of no use. Each is a sentence for the weaver.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SealError {
    /// The text is no private key.
    #[error("this is no private key in OpenSSH's form; `offloom key --make` makes one")]
    NotAKey,
    /// The text is no public key.
    #[error("this is no public key in OpenSSH's form (`ssh-ed25519 AAAA…`)")]
    NotAPublicKey,
    /// Another kind of key.
    #[error("this is a key of the kind {0}; seals are made with Ed25519 keys only")]
    NotEd25519(String),
    /// The key is locked and no passphrase was given.
    #[error(
        "the key is locked with a passphrase, and none was given; give `--passphrase-file FILE`"
    )]
    Locked,
    /// The passphrase does not open the key.
    #[error("this passphrase does not open the key")]
    WrongPassphrase,
    /// The machine gave no random numbers, or the key could not be written.
    #[error("the key could not be made: {0}")]
    NotMade(String),
    /// The signature is not one.
    #[error("this is no signature in OpenSSH's form")]
    NotASignature,
    /// The signature is for something else.
    #[error("the signature is for the purpose `{0}`, not for bundles")]
    OtherPurpose(String),
    /// The signature does not fit what was signed.
    #[error(
        "the signature does not fit: what it was made for has been changed, or it is not this key's"
    )]
    DoesNotFit,
}

/// A key that can make seals.
pub struct SealKey(PrivateKey);

/// The half of a key that everybody may have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PublicKey(ssh_key::PublicKey);

impl SealKey {
    /// A new Ed25519 key from the machine's random numbers, with a remark.
    pub fn make(remark: &str) -> Result<SealKey, SealError> {
        let mut seed = [0; 32];
        getrandom::fill(&mut seed).map_err(|e| SealError::NotMade(e.to_string()))?;
        let pair = KeypairData::from(Ed25519Keypair::from_seed(&seed));
        let key = PrivateKey::new(pair, remark);
        key.map(SealKey)
            .map_err(|e| SealError::NotMade(e.to_string()))
    }

    /// Reads a key in OpenSSH's form.
    pub fn from_openssh(text: &str, passphrase: Option<&str>) -> Result<SealKey, SealError> {
        let key = PrivateKey::from_openssh(text.trim_start()).map_err(|_| SealError::NotAKey)?;
        only_ed25519(key.algorithm())?;
        if !key.is_encrypted() {
            return Ok(SealKey(key));
        }
        let passphrase = passphrase.ok_or(SealError::Locked)?;
        let key = key
            .decrypt(passphrase)
            .map_err(|_| SealError::WrongPassphrase)?;
        Ok(SealKey(key))
    }

    /// The key in OpenSSH's form, locked with the passphrase when there is one.
    pub fn to_openssh(&self, passphrase: Option<&str>) -> Result<String, SealError> {
        let failed = |e: ssh_key::Error| SealError::NotMade(e.to_string());
        let text = match passphrase {
            Some(words) => {
                let locked = self.0.encrypt(&mut OsRng, words).map_err(failed)?;
                locked.to_openssh(LineEnding::LF)
            }
            None => self.0.to_openssh(LineEnding::LF),
        };
        text.map(|text| text.to_string()).map_err(failed)
    }

    /// Its public half.
    pub fn public(&self) -> PublicKey {
        PublicKey(self.0.public_key().clone())
    }

    /// Signs octets: an SSH signature with SHA-512, as text. The same octets give the same signature.
    pub fn sign(&self, octets: &[u8]) -> Result<String, SealError> {
        let failed = |e: ssh_key::Error| SealError::NotMade(e.to_string());
        let signature = self
            .0
            .sign(NAMESPACE, HashAlg::Sha512, octets)
            .map_err(failed)?;
        signature.to_pem(LineEnding::LF).map_err(failed)
    }
}

impl PublicKey {
    /// Reads `ssh-ed25519 AAAA… remark`.
    pub fn from_line(line: &str) -> Result<PublicKey, SealError> {
        let mut key =
            ssh_key::PublicKey::from_openssh(line.trim()).map_err(|_| SealError::NotAPublicKey)?;
        only_ed25519(key.algorithm())?;
        // The remark is no part of the key.
        key.set_comment("");
        Ok(PublicKey(key))
    }

    /// The public half of a private key in OpenSSH's form, which even a locked one shows.
    pub fn of_private(text: &str) -> Result<PublicKey, SealError> {
        let key = PrivateKey::from_openssh(text.trim_start()).map_err(|_| SealError::NotAKey)?;
        only_ed25519(key.algorithm())?;
        Ok(PublicKey(key.public_key().clone()))
    }

    /// The key on one line, without a remark.
    pub fn line(&self) -> String {
        let mut bare = self.0.clone();
        bare.set_comment("");
        bare.to_openssh().unwrap_or_default().trim_end().to_string()
    }

    /// The fingerprint that `ssh-keygen -l` shows: `SHA256:` and 43 signs.
    pub fn fingerprint(&self) -> String {
        self.0.fingerprint(HashAlg::Sha256).to_string()
    }

    /// Whether it is the same key, whatever the remarks.
    pub fn is(&self, other: &PublicKey) -> bool {
        self.0.key_data() == other.0.key_data()
    }
}

/// The key that signed these octets for this purpose.
pub fn verify(signature: &str, octets: &[u8]) -> Result<PublicKey, SealError> {
    let signature = SshSig::from_pem(signature.trim()).map_err(|_| SealError::NotASignature)?;
    if signature.namespace() != NAMESPACE {
        return Err(SealError::OtherPurpose(signature.namespace().to_string()));
    }
    let key = ssh_key::PublicKey::from(signature.public_key().clone());
    only_ed25519(key.algorithm())?;
    key.verify(NAMESPACE, octets, &signature)
        .map_err(|_| SealError::DoesNotFit)?;
    Ok(PublicKey(key))
}

fn only_ed25519(algorithm: Algorithm) -> Result<(), SealError> {
    match algorithm {
        Algorithm::Ed25519 => Ok(()),
        other => Err(SealError::NotEd25519(other.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source, published: RFC 8032, section 7.1, TEST 1: secret key, public key, signature of nothing.
    const SECRET: &str = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";
    const PUBLIC: &str = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a";
    const SIGNATURE: &str = "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b";

    fn hex<const N: usize>(text: &str) -> [u8; N] {
        let octets = data_encoding::HEXLOWER.decode(text.as_bytes()).unwrap();
        octets.try_into().unwrap()
    }

    fn known() -> SealKey {
        let pair = Ed25519Keypair::from_seed(&hex(SECRET));
        SealKey(PrivateKey::new(KeypairData::from(pair), "test").unwrap())
    }

    #[test]
    fn the_key_signs_as_the_standard_says() {
        let key = known();
        let KeypairData::Ed25519(pair) = key.0.key_data() else {
            panic!("not Ed25519");
        };
        assert_eq!(pair.public.0, hex(PUBLIC));
        let signature: ssh_key::Signature = signature::Signer::try_sign(&key.0, b"").unwrap();
        assert_eq!(signature.as_bytes(), hex::<64>(SIGNATURE));
    }

    #[test]
    fn a_seal_is_the_one_that_openssh_makes() {
        // Source, reference library: OpenSSH 9.2, `ssh-keygen -Y sign` with this key over `record 1\n`.
        const MADE: &str = "-----BEGIN SSH SIGNATURE-----
U1NIU0lHAAAAAQAAADMAAAALc3NoLWVkMjU1MTkAAAAg11qYAYKxCrfVS/7TyWQHOg7hcv
PapiMlrwIaaPcHURoAAAAbdGFwZXN0cnktcmVjb3JkQGV4YW1wbGUub3JnAAAAAAAAAAZz
aGE1MTIAAABTAAAAC3NzaC1lZDI1NTE5AAAAQK1eyjWRZz5lzctqpisrbYGO5eIMvhxcHB
KIRQSHugw4bx65NGymLgG6gnfdyX7DN2GzwA/A54Kt+ykJ1lvKVQU=
-----END SSH SIGNATURE-----
";
        let namespace = "tapestry-record@example.org";
        let signature = known()
            .0
            .sign(namespace, HashAlg::Sha512, b"record 1\n")
            .unwrap();
        assert_eq!(signature.to_pem(LineEnding::LF).unwrap(), MADE);
    }

    #[test]
    fn a_seal_is_proved_and_a_changed_octet_breaks_it() {
        let key = known();
        let signature = key.sign(b"manifest\n").unwrap();
        assert_eq!(signature, key.sign(b"manifest\n").unwrap());
        assert!(verify(&signature, b"manifest\n").unwrap().is(&key.public()));
        assert_eq!(
            verify(&signature, b"manifest \n").unwrap_err(),
            SealError::DoesNotFit
        );
        assert_eq!(verify("none", b"").unwrap_err(), SealError::NotASignature);
        let other = key.0.sign("file", HashAlg::Sha512, b"x").unwrap();
        let other = other.to_pem(LineEnding::LF).unwrap();
        assert_eq!(
            verify(&other, b"x").unwrap_err(),
            SealError::OtherPurpose("file".into())
        );
    }

    #[test]
    fn a_locked_key_opens_with_its_passphrase_alone() {
        let key = known();
        let text = key.to_openssh(Some("tide and time")).unwrap();
        let open = |words| SealKey::from_openssh(&text, words);
        assert!(
            open(Some("tide and time"))
                .unwrap()
                .public()
                .is(&key.public())
        );
        assert_eq!(open(None).err(), Some(SealError::Locked));
        assert_eq!(open(Some("tide")).err(), Some(SealError::WrongPassphrase));
        let plain = key.to_openssh(None).unwrap();
        assert!(SealKey::from_openssh(&plain, None).is_ok());
        assert_eq!(
            SealKey::from_openssh("no", None).err(),
            Some(SealError::NotAKey)
        );
    }

    #[test]
    fn a_public_key_keeps_its_identity_on_its_line() {
        let public = known().public();
        // Source, reference library: OpenSSH 9.2, the same key as `ssh-keygen -y` prints it.
        let line =
            "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAINdamAGCsQq31Uv+08lkBzoO4XLz2qYjJa8CGmj3B1Ea";
        assert_eq!(public.line(), line);
        let read = PublicKey::from_line(&format!("{line} a remark\n")).unwrap();
        assert!(read.is(&public));
        assert_eq!(read.fingerprint(), public.fingerprint());
        assert_eq!(
            PublicKey::from_line("ssh-ed25519 x").unwrap_err(),
            SealError::NotAPublicKey
        );
    }
}
