/** The makers’ number as a link that dials it; text that isn’t a number stays text. */
export const PhoneLink = ({ phone }: { readonly phone: string }) => {
  const digits = phone.replace(/[^\d+]/g, '');
  return /^[\d\s()+.-]+$/.test(phone) && digits.length >= 7 ? (
    <a href={`tel:${digits}`}>
      <b>{phone}</b>
    </a>
  ) : (
    <b>{phone}</b>
  );
};
