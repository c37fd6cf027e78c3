/** One step, and the screen it is done on: the item to tap is among the rows. */
export interface TrustStep {
  readonly text: string;
  readonly screen: { readonly title: string; readonly rows: readonly string[]; readonly tap: string };
}

export interface TrustPlatform {
  readonly name: string;
  readonly kind: 'phone' | 'window';
  readonly steps: readonly TrustStep[];
  readonly note: string;
}

const step = (text: string, title: string, rows: readonly string[], tap: string): TrustStep => ({
  text,
  screen: { title, rows, tap },
});

/**
 * The steps of each system as its makers name them, from memory: Android 14, iOS 18, Windows 11, macOS 15, Firefox.
 * Only Chromium was tried (tests/browser/house-certificate.test.ts). Other versions name some menus differently.
 */
export const trustPlatforms: readonly TrustPlatform[] = [
  {
    name: 'Android',
    kind: 'phone',
    steps: [
      step(
        'Download the certificate with the button above. It is saved among the downloads.',
        'This page',
        ['Download the certificate'],
        'Download the certificate',
      ),
      step(
        'In Settings, search for “CA certificate”, or go to Security & privacy, More security & privacy, Encryption & credentials, Install a certificate, CA certificate.',
        'Install a certificate',
        ['CA certificate', 'VPN & app user', 'Wi-Fi certificate'],
        'CA certificate',
      ),
      step(
        'Read the warning and choose “Install anyway”. This certificate is valid only for addresses inside a house.',
        'Your data won’t be private',
        ['Don’t install', 'Install anyway'],
        'Install anyway',
      ),
      step(
        'Choose boilbook-authority.crt, then open this page again.',
        'Downloads',
        ['boilbook-authority.crt', 'holiday.jpg'],
        'boilbook-authority.crt',
      ),
    ],
    note: 'Chrome uses it. Firefox for Android does not, unless a hidden setting allows it.',
  },
  {
    name: 'iPhone and iPad',
    kind: 'phone',
    steps: [
      step(
        'In Safari, download the certificate with the button above and allow it.',
        'Safari',
        ['Ignore', 'Allow'],
        'Allow',
      ),
      step(
        'In Settings, tap Profile Downloaded near the top, then Install.',
        'Settings',
        ['Profile Downloaded', 'Airplane Mode', 'Wi-Fi'],
        'Profile Downloaded',
      ),
      step(
        'Then go to General, About, Certificate Trust Settings.',
        'About',
        ['Name', 'Model Name', 'Certificate Trust Settings'],
        'Certificate Trust Settings',
      ),
      step(
        'Turn on “Boilbook house authority”, then open this page again.',
        'Certificate Trust Settings',
        ['Boilbook house authority'],
        'Boilbook house authority',
      ),
    ],
    note: 'Without the last step it is installed but not trusted.',
  },
  {
    name: 'Windows',
    kind: 'window',
    steps: [
      step(
        'Open the downloaded file and choose Install Certificate, for the Current User.',
        'Certificate',
        ['Install Certificate…', 'OK'],
        'Install Certificate…',
      ),
      step(
        'Choose “Place all certificates in the following store”, then Browse.',
        'Certificate Import Wizard',
        ['Automatically select the store', 'Place all certificates in the following store'],
        'Place all certificates in the following store',
      ),
      step(
        'Take Trusted Root Certification Authorities, finish, and say Yes to the warning.',
        'Select Certificate Store',
        ['Personal', 'Trusted Root Certification Authorities', 'Enterprise Trust'],
        'Trusted Root Certification Authorities',
      ),
    ],
    note: 'Chrome and Edge use it once they are restarted. For Firefox see below.',
  },
  {
    name: 'macOS',
    kind: 'window',
    steps: [
      step(
        'Open the downloaded file: Keychain Access asks where to add it. Take login.',
        'Add Certificates',
        ['login', 'System'],
        'login',
      ),
      step(
        'Find “Boilbook house authority” among the certificates and open it.',
        'Keychain Access',
        ['Boilbook house authority'],
        'Boilbook house authority',
      ),
      step(
        'Unfold Trust and set “When using this certificate” to Always Trust. Close, and give your password.',
        'Trust',
        ['Use System Defaults', 'Always Trust', 'Never Trust'],
        'Always Trust',
      ),
    ],
    note: 'Safari and Chrome use it. For Firefox see below.',
  },
  {
    name: 'Linux with Chrome or Chromium',
    kind: 'window',
    steps: [
      step(
        'Open chrome://certificate-manager, choose Custom, then Import beside Trusted Certificates. Older versions: Settings, Privacy and security, Security, Manage certificates, Authorities, Import.',
        'Certificate Manager',
        ['Trusted Certificates: Import', 'Intermediate Certificates: Import'],
        'Trusted Certificates: Import',
      ),
      step(
        'Choose boilbook-authority.crt; where it asks what for, tick “identifying websites”.',
        'Certificate authority',
        ['Trust this certificate for identifying websites', 'Trust this certificate for email users'],
        'Trust this certificate for identifying websites',
      ),
    ],
    note: 'For all programs on Debian: copy the file to /usr/local/share/ca-certificates and run update-ca-certificates.',
  },
  {
    name: 'Firefox on any computer',
    kind: 'window',
    steps: [
      step(
        'Go to Settings, Privacy & Security, Certificates, View Certificates.',
        'Settings',
        ['View Certificates…', 'Security Devices…'],
        'View Certificates…',
      ),
      step(
        'Under Authorities choose Import and take boilbook-authority.crt.',
        'Certificate Manager: Authorities',
        ['View…', 'Import…', 'Export…'],
        'Import…',
      ),
      step(
        'Tick “Trust this CA to identify websites”.',
        'Downloading Certificate',
        ['Trust this CA to identify websites', 'Trust this CA to identify email users'],
        'Trust this CA to identify websites',
      ),
    ],
    note: 'Firefox on Windows and macOS may already use the system’s own list.',
  },
];
